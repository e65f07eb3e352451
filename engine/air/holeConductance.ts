import { anticlockwise, type Polygon, polygonArea, polygonPerimeter } from "#engine/geometry";
import { choleskyDense, choleskySolve, done, failed, luSolve, type Outcome } from "#engine/numerics";
import { type HolePanels, holePanels } from "./holePanels.ts";

/** Where a flow comes through a plane: plan places and the part of a unit flow that each carries (sum 1). */
export interface FlowSources {
  /** x, y by source, m. */
  readonly points: Float64Array;
  readonly strength: Float64Array;
}

export interface HoleConductance {
  /** m: flow per difference of velocity potential through the thin hole, both sides in series, even potential over the hole. */
  readonly conductance: number;
  /** m: the same for even velocity over the hole (a piston): never more than `conductance`, and the truth lies between. */
  readonly pistonConductance: number;
  /** m2. */
  readonly area: number;
  /** m. */
  readonly perimeter: number;
  /** The flow of even potential, crowded at the edge. */
  readonly flow: FlowSources;
}

/** Panels (round the edge, edge to ridge) of the two runs that are extrapolated. */
const COARSE = [24, 6] as const;
const FINE = [48, 12] as const;

/**
 * Conductance of a hole of any shape in a thin endless plate, from a boundary-element solution of our own.
 * On one side the potential of a flow density s over the hole is  phi(x) = 1/(2 pi) integral s(y)/|x - y| dA.
 *   even potential: phi = 1 over the hole; one side conducts the total flow, the two sides in series half of it (2a for a circle)
 *   even velocity: phi averaged over the hole for s = 1/area (end correction 8a/(3 pi) a side for a circle)
 * Do not mix the two. s grows as distance^-1/2 at the edge: panels get thin there, s is constant over each, phi is met at
 * its centroid, and the two runs are extrapolated with the observed second order. Error below 3e-4 for a circle and for
 * ellipses to 3:1, 1e-3 at 5:1, 2e-3 with square corners (proofs/air). Fails with 'hole-degenerate' if the polygon has no area. Source: RAYLEIGH sec. 306.
 */
export function holeConductance(polygon: Polygon): Outcome<HoleConductance> {
  const ring = anticlockwise(polygon);
  const area = polygonArea(ring);
  const perimeter = polygonPerimeter(ring);
  if (!(area > 1e-6 * perimeter * perimeter)) {
    return failed("hole-degenerate", `the hole has an area of ${area} m2 inside an edge of ${perimeter} m`);
  }
  const coarse = solvePanels(holePanels(ring, ...COARSE), area);
  if (!coarse.ok) return coarse;
  const panels = holePanels(ring, ...FINE);
  const fine = solvePanels(panels, area);
  if (!fine.ok) return fine;
  const total = fine.value.flow.reduce((sum, f) => sum + f, 0);
  return done({
    conductance: extrapolate(coarse.value.evenPotential, fine.value.evenPotential) / 2,
    pistonConductance: extrapolate(coarse.value.evenVelocity, fine.value.evenVelocity) / 2,
    area,
    perimeter,
    flow: { points: panels.centroids, strength: fine.value.flow.map((f) => f / total) },
  });
}

function extrapolate(coarse: number, fine: number): number {
  return fine + (fine - coarse) / 3;
}

interface OneSide {
  readonly evenPotential: number;
  readonly evenVelocity: number;
  /** By panel, m2/s for unit potential. */
  readonly flow: Float64Array;
}

/** One side's conductances (m). The panels' outline is inscribed, so lengths are scaled to the hole's true area. */
function solvePanels(panels: HolePanels, trueArea: number): Outcome<OneSide> {
  const { count: n, areas, centroids } = panels;
  // Potential at one panel per unit flow of another. Meeting it at centroids leaves it a little unsymmetric; its
  // symmetric half is what the energy sees, and keeps the truth of reciprocity.
  const potential = new Float64Array(n * n);
  let area = 0;
  for (let p = 0; p < n; p++) {
    area += areas[p];
    for (let q = 0; q < n; q++) {
      const value =
        panelPotential(panels, q, centroids[2 * p], centroids[2 * p + 1]) / (4 * Math.PI * areas[q]);
      potential[p * n + q] += value;
      potential[q * n + p] += value;
    }
  }
  const one = new Float64Array(n).fill(1);
  const factor = choleskyDense(potential, n);
  // Panels that overlap in a cusp cost positive definiteness; the same equations are then solved without it.
  const solved = factor.ok ? done(choleskySolve(factor.value, n, one)) : luSolve(potential, n, one);
  if (!solved.ok) return solved;
  const flow = solved.value;
  let mean = 0;
  for (let p = 0; p < n; p++) {
    for (let q = 0; q < n; q++) mean += areas[p] * potential[p * n + q] * areas[q];
  }
  const scale = Math.sqrt(trueArea / area);
  return done({
    evenPotential: scale * flow.reduce((sum, f) => sum + f, 0),
    evenVelocity: (scale * area * area) / mean,
    flow,
  });
}

/** Integral of 1/r over one panel from a point in its plane: sum over edges of d ln((r2 + l2)/(r1 + l1)). */
function panelPotential(panels: HolePanels, q: number, x: number, y: number): number {
  const { corners, centroids, areas } = panels;
  const o = 8 * q;
  const dx = x - centroids[2 * q];
  const dy = y - centroids[2 * q + 1];
  const far = Math.sqrt(dx * dx + dy * dy);
  const reach = Math.hypot(corners[o + 4] - corners[o], corners[o + 5] - corners[o + 1]);
  // Beyond this the panel's second moment changes the value by less than 1e-4 of an already small share.
  if (far > 12 * reach) return areas[q] / far;
  let sum = 0;
  for (let k = 0; k < 4; k++) {
    const a = o + 2 * k;
    const b = o + 2 * ((k + 1) % 4);
    const ex = corners[b] - corners[a];
    const ey = corners[b + 1] - corners[a + 1];
    const length = Math.hypot(ex, ey);
    if (length < 1e-6 * reach) continue;
    const tx = ex / length;
    const ty = ey / length;
    const l1 = (corners[a] - x) * tx + (corners[a + 1] - y) * ty;
    const distance = (corners[a] - x) * ty - (corners[a + 1] - y) * tx;
    if (Math.abs(distance) < 1e-12 * reach) continue;
    const l2 = l1 + length;
    const r1 = Math.sqrt(l1 * l1 + distance * distance);
    const r2 = Math.sqrt(l2 * l2 + distance * distance);
    // The one of the two equal forms that does not cancel.
    sum += distance * Math.log(l1 + l2 > 0 ? (r2 + l2) / (r1 + l1) : (r1 - l1) / (r2 - l2));
  }
  return sum;
}
