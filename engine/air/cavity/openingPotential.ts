import { choleskyDense, choleskySolve, done, luSolve, type Outcome } from "#engine/numerics";
import type { OpeningPanels } from "./openingPanels.ts";

/**
 * Velocity potential over the opening on one side of an endless flange per flow through it, n x n, 1/m:
 *   P_pq = 1/(2 pi A_q) integral over panel q of 1/r dA,  at the middle of p; its symmetric half is what the energy sees.
 * rho times it is the inertance of one flanged end. For an opening that bends round the edge into the side it is only a
 * first guess. Lengths are scaled to the opening's true area. Source: RAYLEIGH sec. 306.
 */
export function openingPotential(panels: OpeningPanels): Float64Array {
  const { count: n, areas, centroids, areaRatio } = panels;
  const potential = new Float64Array(n * n);
  const scale = 1 / (4 * Math.PI * Math.sqrt(areaRatio));
  for (let p = 0; p < n; p++) {
    for (let q = 0; q < n; q++) {
      const value =
        (scale * panelPotential(panels, q, centroids[3 * p], centroids[3 * p + 1], centroids[3 * p + 2])) /
        areas[q];
      potential[p * n + q] += value;
      potential[q * n + p] += value;
    }
  }
  return potential;
}

/** Flow at unit potential over the whole opening: P f = 1. */
export function evenFlow(potential: Float64Array, n: number): Outcome<Float64Array> {
  const one = new Float64Array(n).fill(1);
  const factor = choleskyDense(potential, n);
  // Panels that overlap in a cusp cost positive definiteness; the same equations are then solved without it.
  return factor.ok ? done(choleskySolve(factor.value, n, one)) : luSolve(potential, n, one);
}

/**
 * Integral of 1/r over a flat panel from any point: with h the height of the point over its plane and, for each edge, d the
 * signed distance of the foot from its line, l1, l2 the places of its ends along it and r1, r2 their distances,
 *   sum over edges of  d ln((r2 + l2)/(r1 + l1)) - h [atan(d l2/(d2 + h2 + h r2)) - atan(d l1/(d2 + h2 + h r1))]
 */
function panelPotential(panels: OpeningPanels, q: number, x: number, y: number, z: number): number {
  const { corners, centroids, normals, areas } = panels;
  const dx = x - centroids[3 * q];
  const dy = y - centroids[3 * q + 1];
  const dz = z - centroids[3 * q + 2];
  const far = Math.sqrt(dx * dx + dy * dy + dz * dz);
  const o = 12 * q;
  const gx = corners[o + 6] - corners[o];
  const gy = corners[o + 7] - corners[o + 1];
  const gz = corners[o + 8] - corners[o + 2];
  const reach = Math.sqrt(gx * gx + gy * gy + gz * gz);
  // Beyond this the panel's second moment changes the value by less than 1e-4 of an already small share.
  if (far > 12 * reach) return areas[q] / far;
  const nx = normals[3 * q];
  const ny = normals[3 * q + 1];
  const nz = normals[3 * q + 2];
  const height = Math.abs(dx * nx + dy * ny + dz * nz);
  // A panel of a shallow dome counts as flat: its neighbours lie in its plane.
  const h = height < 0.05 * far ? 0 : height;
  let sum = 0;
  for (let k = 0; k < 4; k++) {
    const a = o + 3 * k;
    const b = o + 3 * ((k + 1) % 4);
    const ex = corners[b] - corners[a];
    const ey = corners[b + 1] - corners[a + 1];
    const ez = corners[b + 2] - corners[a + 2];
    const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
    if (length < 1e-6 * reach) continue;
    const tx = ex / length;
    const ty = ey / length;
    const tz = ez / length;
    const ax = corners[a] - x;
    const ay = corners[a + 1] - y;
    const az = corners[a + 2] - z;
    const l1 = ax * tx + ay * ty + az * tz;
    // Outward of the edge, in the plane: t x n.
    const d = ax * (ty * nz - tz * ny) + ay * (tz * nx - tx * nz) + az * (tx * ny - ty * nx);
    if (Math.abs(d) < 1e-12 * reach) continue;
    const l2 = l1 + length;
    const base = d * d + h * h;
    const r1 = Math.sqrt(base + l1 * l1);
    const r2 = Math.sqrt(base + l2 * l2);
    // The one of the two equal forms that does not cancel.
    sum += d * Math.log(l1 + l2 > 0 ? (r2 + l2) / (r1 + l1) : (r1 - l1) / (r2 - l2));
    if (h > 0) sum -= h * (Math.atan((d * l2) / (base + h * r2)) - Math.atan((d * l1) / (base + h * r1)));
  }
  return sum;
}
