/** A thin rectangular plate on simple supports, x from 0 to length, y from -width/2 to width/2. SI. */
export interface SupportedPlate {
  readonly length: number;
  readonly width: number;
  /** kg/m2. */
  readonly massPerArea: number;
  /** Bending stiffness along x and y, and D3 = D12 + 2 D66, N m. */
  readonly D1: number;
  readonly D2: number;
  readonly D3: number;
  readonly lossFactor: number;
  readonly count: number;
  /** Cells of the mesh along x and y. */
  readonly cells: readonly [number, number];
}

/**
 * The `count` lowest (m, n) with their omega, in closed form. Shapes 2/sqrt(mass) sin(m pi x/a) sin(n pi (y/b + 1/2)),
 *   omega^2 = pi^4 (D1 m4/a4 + 2 D3 m2n2/(a2b2) + D2 n4/b4)/sigma
 * Source: LEISSA-1969 ch. 9.
 */
export function supportedModes(p: SupportedPlate): { m: number; n: number; omega: number }[] {
  const all: { m: number; n: number; omega: number }[] = [];
  // Enough of either number for plates not far from square.
  const most = Math.ceil(4 * Math.sqrt(p.count)) + 2;
  for (let m = 1; m <= most; m++) {
    for (let n = 1; n <= most; n++) {
      const [u, v] = [(m / p.length) ** 2, (n / p.width) ** 2];
      const square = (Math.PI ** 4 * (p.D1 * u * u + 2 * p.D3 * u * v + p.D2 * v * v)) / p.massPerArea;
      all.push({ m, n, omega: Math.sqrt(square) });
    }
  }
  return all.sort((x, y) => x.omega - y.omega).slice(0, p.count);
}

/** 6 x 6 about the origin of a uniform box: translations x, y, z, rotations x, y, z. */
export function boxMass(
  mass: number,
  centre: readonly [number, number, number],
  size: readonly [number, number, number],
): Float64Array {
  const [x, y, z] = centre;
  const cross = [0, z, -y, -z, 0, x, y, -x, 0]; // Theta x p as a matrix on Theta
  const out = new Float64Array(36);
  for (let i = 0; i < 3; i++) {
    out[7 * i] = mass;
    for (let j = 0; j < 3; j++) {
      out[6 * i + 3 + j] = out[6 * (3 + j) + i] = mass * cross[3 * i + j];
      let about = 0;
      for (let k = 0; k < 3; k++) about += cross[3 * k + i] * cross[3 * k + j];
      out[6 * (3 + i) + 3 + j] = mass * about;
    }
    const own = size.reduce((sum, s, k) => sum + (k === i ? 0 : s * s), 0) / 12;
    out[6 * (3 + i) + 3 + i] += mass * own;
  }
  return out;
}
