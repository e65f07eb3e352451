/**
 * Potentials of one flat triangle with hat functions h_m, seen from a point x off its edges, in closed form:
 *   single[m] = integral of h_m / r,   double[m] = integral of h_m (x - y).n / r^3,   r = |x - y|, n the outward normal
 * For each edge with unit tangent l, in-plane outward normal u, ends at s1, s2 along l, distance t0 from the foot of x along
 * u and d = height of x over the plane, R0^2 = t0^2 + d^2:
 *   f = ln((R2 + s2)/(R1 + s1)),  b = atan(t0 s2/(R0^2 + |d| R2)) - atan(t0 s1/(R0^2 + |d| R1))
 *   integral 1/r = sum t0 f - |d| sum b;            integral d/r^3 = sign(d) sum b
 *   integral (y - foot)/r = sum u (R0^2 f + s2 R2 - s1 R1)/2;   integral (y - foot) d/r^3 = -d sum u f
 * place: x,y,z of three corners, anticlockwise about n. Source: WILTON-1984 (from memory; checked by quadrature in its test).
 */
export function staticTriangle(
  corners: Float64Array,
  normal: ArrayLike<number>,
  x: number,
  y: number,
  z: number,
  single: Float64Array,
  double: Float64Array,
): void {
  const nx = normal[0];
  const ny = normal[1];
  const nz = normal[2];
  const d = (x - corners[0]) * nx + (y - corners[1]) * ny + (z - corners[2]) * nz;
  const height = Math.abs(d);
  let plain = 0;
  let angle = 0;
  // Vector integrals in space: sum of u times a number.
  let ax = 0;
  let ay = 0;
  let az = 0;
  let bx = 0;
  let by = 0;
  let bz = 0;
  for (let m = 0; m < 3; m++) {
    const p = 3 * m;
    const q = m === 2 ? 0 : p + 3;
    let lx = corners[q] - corners[p];
    let ly = corners[q + 1] - corners[p + 1];
    let lz = corners[q + 2] - corners[p + 2];
    const length = Math.sqrt(lx * lx + ly * ly + lz * lz);
    lx /= length;
    ly /= length;
    lz /= length;
    const ux = ly * nz - lz * ny;
    const uy = lz * nx - lx * nz;
    const uz = lx * ny - ly * nx;
    const px = corners[p] - x;
    const py = corners[p + 1] - y;
    const pz = corners[p + 2] - z;
    const s1 = px * lx + py * ly + pz * lz;
    const s2 = s1 + length;
    const t0 = px * ux + py * uy + pz * uz;
    const square = t0 * t0 + d * d;
    const r1 = Math.sqrt(square + s1 * s1);
    const r2 = Math.sqrt(square + s2 * s2);
    const f =
      s1 > 0
        ? Math.log((r2 + s2) / (r1 + s1))
        : s2 < 0
          ? Math.log((r1 - s1) / (r2 - s2))
          : Math.log(((r2 + s2) * (r1 - s1)) / square);
    const b =
      square > 0
        ? Math.atan((t0 * s2) / (square + height * r2)) - Math.atan((t0 * s1) / (square + height * r1))
        : 0;
    plain += t0 * f;
    angle += b;
    const e = 0.5 * (square * f + s2 * r2 - s1 * r1);
    ax += ux * e;
    ay += uy * e;
    az += uz * e;
    bx += ux * f;
    by += uy * f;
    bz += uz * f;
  }
  plain -= height * angle;
  const solid = d > 0 ? angle : -angle;
  const flat = d === 0;
  // Hats: value at the foot of x and gradient, from the corners.
  for (let m = 0; m < 3; m++) {
    const p = 3 * ((m + 1) % 3);
    const q = 3 * ((m + 2) % 3);
    const o = 3 * m;
    const ex = corners[q] - corners[p];
    const ey = corners[q + 1] - corners[p + 1];
    const ez = corners[q + 2] - corners[p + 2];
    // n x e is square to the opposite edge and points at corner m.
    let gx = ny * ez - nz * ey;
    let gy = nz * ex - nx * ez;
    let gz = nx * ey - ny * ex;
    const scale =
      gx * (corners[o] - corners[p]) +
      gy * (corners[o + 1] - corners[p + 1]) +
      gz * (corners[o + 2] - corners[p + 2]);
    gx /= scale;
    gy /= scale;
    gz /= scale;
    const hat = gx * (x - corners[p]) + gy * (y - corners[p + 1]) + gz * (z - corners[p + 2]);
    single[m] = hat * plain + gx * ax + gy * ay + gz * az;
    double[m] = flat ? 0 : hat * solid - d * (gx * bx + gy * by + gz * bz);
  }
}
