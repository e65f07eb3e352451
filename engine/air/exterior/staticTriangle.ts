import type { PanelGeometry } from "./panelGeometry.ts";

/**
 * What the closed forms below need of each panel, 42 numbers by panel: corners x,y,z (9); outward unit normal (3); by edge
 * from corner m to the next its unit tangent and in-plane outward normal (18) and length (3); gradients of the hats (9),
 */
export type TriangleFrames = Float64Array;

const width = 42;

export function triangleFrames(g: PanelGeometry): TriangleFrames {
  const frames = new Float64Array(width * g.panels);
  for (let t = 0; t < g.panels; t++) {
    const f = frames.subarray(width * t, width * (t + 1));
    for (let m = 0; m < 3; m++)
      for (let d = 0; d < 3; d++) f[3 * m + d] = g.place[3 * g.corner[3 * t + m] + d];
    f.set(g.normal.subarray(3 * t, 3 * t + 3), 9);
    for (let m = 0; m < 3; m++) {
      const next = (m + 1) % 3;
      const edge = [0, 1, 2].map((d) => f[3 * next + d] - f[3 * m + d]);
      const length = Math.hypot(edge[0], edge[1], edge[2]);
      f[30 + m] = length;
      for (let d = 0; d < 3; d++) {
        const [e, h] = [(d + 1) % 3, (d + 2) % 3];
        f[12 + 6 * m + d] = edge[d] / length;
        f[15 + 6 * m + d] = (edge[e] * f[9 + h] - edge[h] * f[9 + e]) / length;
        // curl = n x gradient, so gradient = curl x n.
        const c = 9 * t + 3 * m;
        f[33 + 3 * m + d] = g.curl[c + e] * f[9 + h] - g.curl[c + h] * f[9 + e];
      }
    }
  }
  return frames;
}

/**
 * Potentials of one flat triangle with hat functions h_m, seen from a point x off its edges, in closed form:
 *   single[m] = integral of h_m / r,   double[m] = integral of h_m (x - y).n / r^3,   r = |x - y|, n the outward normal
 * For each edge with unit tangent l, in-plane outward normal u, ends at s1, s2 along l, distance t0 from the foot of x along
 * u and d = height of x over the plane, R0^2 = t0^2 + d^2, W the solid angle with the sign of d:
 *   f = ln((R2 + s2)/(R1 + s1));   integral 1/r = sum t0 f - d W;   integral d/r^3 = W
 *   integral (y - foot)/r = sum u (R0^2 f + s2 R2 - s1 R1)/2;   integral (y - foot) d/r^3 = -d sum u f
 * Sources: WILTON-1984; solid angle: OOSTEROM-1983 (both from memory, checked by quadrature in the test).
 */
export function staticTriangle(
  frames: TriangleFrames,
  panel: number,
  x: number,
  y: number,
  z: number,
  single: Float64Array,
  double: Float64Array,
): void {
  const F = width * panel;
  // From x to the corners.
  const ax = frames[F] - x;
  const ay = frames[F + 1] - y;
  const az = frames[F + 2] - z;
  const bx = frames[F + 3] - x;
  const by = frames[F + 4] - y;
  const bz = frames[F + 5] - z;
  const cx = frames[F + 6] - x;
  const cy = frames[F + 7] - y;
  const cz = frames[F + 8] - z;
  const a = Math.sqrt(ax * ax + ay * ay + az * az);
  const b = Math.sqrt(bx * bx + by * by + bz * bz);
  const c = Math.sqrt(cx * cx + cy * cy + cz * cz);
  const d = -(ax * frames[F + 9] + ay * frames[F + 10] + az * frames[F + 11]);
  const volume = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  const below =
    a * b * c +
    (ax * bx + ay * by + az * bz) * c +
    (bx * cx + by * cy + bz * cz) * a +
    (cx * ax + cy * ay + cz * az) * b;
  const solid = -2 * Math.atan2(volume, below);
  let plain = -d * solid;
  // Sums over the edges of u times e, and of u times f.
  let ex = 0;
  let ey = 0;
  let ez = 0;
  let fx = 0;
  let fy = 0;
  let fz = 0;
  for (let m = 0; m < 3; m++) {
    const E = F + 12 + 6 * m;
    const px = m === 0 ? ax : m === 1 ? bx : cx;
    const py = m === 0 ? ay : m === 1 ? by : cy;
    const pz = m === 0 ? az : m === 1 ? bz : cz;
    const r1 = m === 0 ? a : m === 1 ? b : c;
    const r2 = m === 0 ? b : m === 1 ? c : a;
    const s1 = px * frames[E] + py * frames[E + 1] + pz * frames[E + 2];
    const s2 = s1 + frames[F + 30 + m];
    const ux = frames[E + 3];
    const uy = frames[E + 4];
    const uz = frames[E + 5];
    const t0 = px * ux + py * uy + pz * uz;
    const square = t0 * t0 + d * d;
    // Of three equal forms the one that does not cancel.
    const f =
      s1 > 0
        ? Math.log((r2 + s2) / (r1 + s1))
        : s2 < 0
          ? Math.log((r1 - s1) / (r2 - s2))
          : Math.log(((r2 + s2) * (r1 - s1)) / square);
    plain += t0 * f;
    const e = 0.5 * (square * f + s2 * r2 - s1 * r1);
    ex += ux * e;
    ey += uy * e;
    ez += uz * e;
    fx += ux * f;
    fy += uy * f;
    fz += uz * f;
  }
  for (let m = 0; m < 3; m++) {
    const G = F + 33 + 3 * m;
    const gx = frames[G];
    const gy = frames[G + 1];
    const gz = frames[G + 2];
    const px = m === 0 ? ax : m === 1 ? bx : cx;
    const py = m === 0 ? ay : m === 1 ? by : cy;
    const pz = m === 0 ? az : m === 1 ? bz : cz;
    const hat = 1 - (gx * px + gy * py + gz * pz);
    single[m] = hat * plain + gx * ex + gy * ey + gz * ez;
    double[m] = hat * solid - d * (gx * fx + gy * fy + gz * fz);
  }
}
