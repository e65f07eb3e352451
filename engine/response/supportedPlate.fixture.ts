import type { PlateModes } from "#engine/shells";

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
 * Its modes in closed form, in the record that `shells` makes from a mesh:
 *   w_mn = 2/sqrt(mass) sin(m pi x/a) sin(n pi (y/b + 1/2)),   omega^2 = pi^4 (D1 m4/a4 + 2 D3 m2n2/(a2b2) + D2 n4/b4)/sigma
 * Everything but the shapes between nodes is exact. Source: LEISSA-1969 ch. 9.
 */
export function supportedPlateModes(p: SupportedPlate): PlateModes {
  const { length: a, width: b, massPerArea: sigma } = p;
  const mass = sigma * a * b;
  const modes = supportedModes(p);
  const [nx, ny] = p.cells;
  const nodeCount = (nx + 1) * (ny + 1);
  const nodes = new Float64Array(3 * nodeCount);
  const plan = new Float64Array(2 * nodeCount);
  const nodeArea = new Float64Array(nodeCount);
  for (let j = 0; j <= ny; j++) {
    for (let i = 0; i <= nx; i++) {
      const k = j * (nx + 1) + i;
      nodes[3 * k] = plan[2 * k] = (a * i) / nx;
      nodes[3 * k + 1] = plan[2 * k + 1] = (b * j) / ny - b / 2;
      nodeArea[k] = ((a * b) / (nx * ny)) * (i % nx === 0 ? 0.5 : 1) * (j % ny === 0 ? 0.5 : 1);
    }
  }
  const triangles: number[] = [];
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const k = j * (nx + 1) + i;
      triangles.push(k, k + 1, k + nx + 2, k, k + nx + 2, k + nx + 1);
    }
  }
  const scale = 2 / Math.sqrt(mass);
  const shapes = new Float64Array(p.count * nodeCount * 6);
  const volume = new Float64Array(p.count);
  const rigidCoupling = new Float64Array(6 * p.count);
  modes.forEach(({ m, n }, i) => {
    for (let k = 0; k < nodeCount; k++) {
      const u = (m * Math.PI * plan[2 * k]) / a;
      const v = n * Math.PI * (plan[2 * k + 1] / b + 0.5);
      const at = (i * nodeCount + k) * 6;
      shapes[at + 2] = scale * Math.sin(u) * Math.sin(v);
      shapes[at + 3] = ((scale * n * Math.PI) / b) * Math.sin(u) * Math.cos(v);
      shapes[at + 4] = ((-scale * m * Math.PI) / a) * Math.cos(u) * Math.sin(v);
    }
    const [sx, sy] = [a, b].map((side, k) => (side / ([m, n][k] * Math.PI)) * (1 - (-1) ** [m, n][k]));
    const mx = (-(a * a) / (m * Math.PI)) * (-1) ** m;
    const my = (-(b * b) / (n * Math.PI)) * (-1) ** n - (b / 2) * sy;
    volume[i] = scale * sx * sy;
    rigidCoupling.set(
      [0, 0, sigma * scale * sx * sy, sigma * scale * sx * my, -sigma * scale * mx * sy, 0],
      6 * i,
    );
  });
  const triangleArray = Uint32Array.from(triangles);
  const mesh = {
    nodes,
    triangles: triangleArray,
    boundary: [],
    ribs: [],
    plan: { nodes: plan, triangles: triangleArray, boundary: [], lines: [] },
  };
  return {
    count: p.count,
    omega: Float64Array.from(modes, (k) => k.omega),
    lossFactor: new Float64Array(p.count).fill(p.lossFactor),
    shapes,
    mesh,
    nodeArea,
    volume,
    mass,
    rigidMass: boxMass(mass, [a / 2, 0, 0], [a, b, 0]),
    rigidCoupling,
    rigidVolume: Float64Array.from([0, 0, a * b, 0, (-a * a * b) / 2, 0]),
  };
}

/** The `count` lowest (m, n) with their omega. */
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
