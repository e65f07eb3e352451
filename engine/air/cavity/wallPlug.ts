import { choleskyDense, choleskySolve, done, type Outcome } from "#engine/numerics";
import type { OpeningPanels } from "./openingPanels.ts";

/** m: walls thinner than this hold no air worth speaking of. */
const NO_WALL = 1e-6;

/**
 * Inertance over density (n x n by flow through the panels, 1/m) of the air in the wall of thickness h, the same flow in at
 * one mouth and out at the other. What varies along the mouth with wave number k evens out within the wall:
 *   energy of a velocity w:  integral of (2/k) tanh(k h/2) w2,   tanh(x)/x = 1/6 + (5/6)/(1 + 2/5 x2) to 1 % up to x = 3
 * (straight flow at small k: h w2). -k2 is the Laplacian over the panels, nothing crossing the opening's edge: neighbours
 * exchange by common side over distance of middles. Neighbours across the ridge of a hole do not, which the few panels there
 * do not feel. A thickness that varies is taken at each panel, the mean of both between two. Fails with the reason of
 * `choleskyDense`.
 */
export function wallPlug(panels: OpeningPanels): Outcome<Float64Array> {
  const { count: n, areas, areaRatio, wall } = panels;
  const out = new Float64Array(n * n);
  if (wall.every((h) => h < NO_WALL)) return done(out);
  const h = wall.map((v) => Math.max(v, NO_WALL));
  const smoothing = new Float64Array(n * n);
  for (let p = 0; p < n; p++) smoothing[p * n + p] = (areas[p] * areaRatio) / h[p];
  for (const { p, q, exchange } of neighbours(panels)) {
    const both = 0.1 * exchange * ((h[p] + h[q]) / 2);
    smoothing[p * n + p] += both;
    smoothing[q * n + q] += both;
    smoothing[p * n + q] -= both;
    smoothing[q * n + p] -= both;
  }
  const factor = choleskyDense(smoothing, n);
  if (!factor.ok) return factor;
  const unit = new Float64Array(n * n);
  for (let p = 0; p < n; p++) unit[p * n + p] = 1;
  choleskySolve(factor.value, n, unit, n, out);
  for (let e = 0; e < out.length; e++) out[e] *= 5 / 6;
  for (let p = 0; p < n; p++) out[p * n + p] += h[p] / (6 * areas[p] * areaRatio);
  return done(out);
}

/** Panels with a common side: its length over the distance of their middles. */
function neighbours({ count, corners, centroids }: OpeningPanels) {
  const open = new Map<string, number>();
  const found: { p: number; q: number; exchange: number }[] = [];
  const name = (at: number) => `${corners[at]},${corners[at + 1]},${corners[at + 2]}`;
  const apart = (a: Float64Array, i: number, b: Float64Array, j: number) =>
    Math.hypot(a[i] - b[j], a[i + 1] - b[j + 1], a[i + 2] - b[j + 2]);
  for (let p = 0; p < count; p++) {
    for (let k = 0; k < 4; k++) {
      const a = 12 * p + 3 * k;
      const b = 12 * p + 3 * ((k + 1) % 4);
      const side = apart(corners, a, corners, b);
      if (side === 0) continue;
      // The neighbour runs along the common side the other way.
      const q = open.get(`${name(b)};${name(a)}`);
      if (q === undefined) open.set(`${name(a)};${name(b)}`, p);
      else found.push({ p, q, exchange: side / apart(centroids, 3 * p, centroids, 3 * q) });
    }
  }
  return found;
}
