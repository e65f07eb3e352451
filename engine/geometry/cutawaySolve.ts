/** Finds the edge of a cutaway that meets the maker's figures. */
import { done, failed, luSolve, type Outcome } from "#engine/numerics";
import type { CutawaySpec } from "./bodySpec.ts";
import { curveCurvature, curveJet, curvePoint } from "./curve.ts";
import { type EdgeCurve, type EdgeEnd, edgeCurve } from "./cutawayEdge.ts";
import type { OutlineCurve } from "./outline.ts";

/** An edge found: where it leaves and joins the outline, and how it runs between. */
export interface CutawayEdge {
  readonly from: number;
  readonly to: number;
  readonly start: EdgeEnd;
  readonly end: EdgeEnd;
  readonly curve: EdgeCurve;
}

// Unknowns, all of order one: 0 where the edge leaves the outline and 1 where it joins the neck line (over the scale);
// then, as logits of their share of what is possible: 2 peak heading, 3 turn to the tip, 4 turn to the scoop, 5 turn to
// the corner; 6 ln of the scoop's curvature times the scale; 7-11 ln of the spirals' lateness.
const unknownCount = 12;
/** How unwilling each unknown is to leave its first guess. */
const stiffness = [1, 1, 1, 1, 0.7, 0.5, 0.7, 1, 1, 1, 1, 1];
/** The peak heading lies between a right angle and this much more. */
const hookRange = 1.9;
/** Steps during which the first guess pulls. */
const pulledSteps = 25;

function share(logit: number): number {
  return 1 / (1 + Math.exp(-logit));
}

/**
 * The edge on the treble side that meets the figures, from a few even first guesses in turn; Gauss-Newton steps.
 * Fails with 'no-cutaway'.
 */
export function cutawayEdge(outline: OutlineCurve, spec: CutawaySpec): Outcome<CutawayEdge> {
  const scale = spec.depth;
  const guess = firstGuess(outline, spec);
  if (!guess.ok) return guess;
  let told = "";
  for (const hook of [-0.5, -1.5, 0.5, -2.5]) {
    for (const scoop of [0.45, 0.25]) {
      const { from, to, gap } = guess.value;
      const first = new Float64Array(unknownCount);
      first.set([from / scale, to / scale, hook, 0, 0, 0, Math.log(scale / (scoop * gap))]);
      const solved = solvedEdge(outline, spec, scale, first);
      if (solved.ok) return solved;
      told = solved.detail;
    }
  }
  return failed(
    "no-cutaway",
    `no edge of even curvature meets these figures (${told}); try less depth, another setback of the tip, a smaller tip radius, another neck offset${spec.scoopRadius === null ? "" : " or a free scoop radius"}`,
  );
}

interface Guess {
  readonly from: number;
  readonly to: number;
  /** From the horn's outer flank to the neck line, m. */
  readonly gap: number;
}

/** Where the edge might leave the outline and the neck line: places read off the outline's treble side. */
function firstGuess(outline: OutlineCurve, spec: CutawaySpec): Outcome<Guess> {
  const { curve, neckEnd, length } = outline;
  const steps = 400;
  let from = -1;
  let to = -1;
  let gap = 0;
  for (let i = 0; i < steps; i++) {
    const t = (neckEnd * i) / steps;
    const [x, y] = curvePoint(curve, t);
    if (x <= length - spec.tipSetback - 0.9 * spec.tipRadius) {
      from = t;
      gap = -y - spec.neckOffset;
    }
    if (to < 0 && x > length - 0.5 * spec.depth && -y <= spec.neckOffset - 0.6 * spec.cornerRadius) to = t;
  }
  if (from < 0 || to <= from || gap < 2 * spec.tipRadius) {
    return failed("no-cutaway", "the outline leaves no room for the horn beside the neck at these figures");
  }
  return done({ from, to, gap });
}

/** The edge that a vector of unknowns describes; null where there is none. */
function edgeOf(
  outline: OutlineCurve,
  spec: CutawaySpec,
  scale: number,
  z: Float64Array,
): CutawayEdge | null {
  const endAt = (t: number): EdgeEnd => {
    const jet = curveJet(outline.curve, t);
    const curvature = curveCurvature(outline.curve, t);
    return { point: [jet[0], jet[1]], heading: Math.atan2(jet[3], jet[2]), curvature };
  };
  const from = z[0] * scale;
  const to = z[1] * scale;
  if (!(from > 0 && to > from && to < outline.neckEnd)) return null;
  const start = endAt(from);
  const end = endAt(to);
  if (start.curvature >= 1 / spec.tipRadius || end.curvature >= 1 / spec.cornerRadius) return null;
  if (start.heading > 1.4 || end.heading < 1.2) return null;
  const peakHeading = Math.PI / 2 + hookRange * share(z[2]);
  const curve = edgeCurve(start, end, {
    tip: 1 / spec.tipRadius,
    scoop: spec.scoopRadius === null ? Math.exp(z[6]) / scale : 1 / spec.scoopRadius,
    corner: 1 / spec.cornerRadius,
    peakHeading,
    leastHeading: spec.neckAngle,
    turnToTip: (peakHeading - start.heading) * share(z[3]),
    turnToScoop: (peakHeading - spec.neckAngle) * share(z[4]),
    turnToCorner: (end.heading - spec.neckAngle) * share(z[5]),
    lateness: [7, 8, 9, 10, 11].map((i) => Math.exp(z[i])),
  });
  return { from, to, start, end, curve };
}

/** By how much an edge misses the figures, over the scale; null if there is no such edge. */
function misses(
  outline: OutlineCurve,
  spec: CutawaySpec,
  scale: number,
  edge: CutawayEdge | null,
): Float64Array | null {
  if (edge === null) return null;
  const { last, corner, deepest, foremost } = edge.curve;
  if (foremost === null || deepest === null) return null;
  return Float64Array.of(
    (last[0] - edge.end.point[0]) / scale,
    (last[1] - edge.end.point[1]) / scale,
    (deepest[0] - (outline.length - spec.depth)) / scale,
    (foremost[0] - (outline.length - spec.tipSetback)) / scale,
    (-corner[1] - spec.neckOffset) / scale,
  );
}

/** Gauss-Newton steps to the edge that meets the figures and stays nearest (weighted) to the first vector. */
function solvedEdge(
  outline: OutlineCurve,
  spec: CutawaySpec,
  scale: number,
  first: Float64Array,
): Outcome<CutawayEdge> {
  let z: Float64Array = first;
  let miss = misses(outline, spec, scale, edgeOf(outline, spec, scale, z));
  if (miss === null) return failed("no-cutaway", "the first guess is no edge");
  for (let step = 0; step < 50; step++) {
    const jacobian = missJacobian(outline, spec, scale, z, miss);
    if (jacobian === null) return failed("no-cutaway", "the horn vanishes");
    // Once near, or if the pull home keeps it from arriving, go straight to the nearest edge that meets the figures.
    const settled = step >= pulledSteps;
    const move = leastMove(jacobian, miss, settled ? z : first, z);
    if (move === null) return failed("no-cutaway", "the figures fight each other");
    const biggest = move.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    let factor = Math.min(1, 0.4 / biggest);
    let next: Float64Array | null = null;
    for (let halving = 0; halving < 10 && next === null; halving++) {
      const tried = z.map((value, i) => value + factor * move[i]);
      const found = misses(outline, spec, scale, edgeOf(outline, spec, scale, tried));
      if (found !== null && norm(found) < (settled ? norm(miss) + 1e-13 : 1.2 * norm(miss) + 0.02)) {
        next = tried;
        miss = found;
      } else factor /= 2;
    }
    if (next === null) return failed("no-cutaway", "the steps stop short");
    z = next;
    const edge = edgeOf(outline, spec, scale, z);
    if (norm(miss) < 1e-12 && (settled || biggest < 1e-4) && edge !== null) return done(edge);
  }
  return failed("no-cutaway", `it still misses by ${(norm(miss) * scale).toExponential(1)} m`);
}

function norm(values: Float64Array): number {
  return Math.hypot(...values);
}

/** Derivatives of the misses by the unknowns, forward differences; one row of 12 for each miss. */
function missJacobian(
  outline: OutlineCurve,
  spec: CutawaySpec,
  scale: number,
  z: Float64Array,
  miss: Float64Array,
): Float64Array | null {
  const out = new Float64Array(miss.length * unknownCount);
  const eps = 1e-7;
  for (let q = 0; q < unknownCount; q++) {
    const nudged = z.slice();
    nudged[q] += eps;
    const forward = misses(outline, spec, scale, edgeOf(outline, spec, scale, nudged));
    if (forward === null) return null;
    for (let r = 0; r < miss.length; r++) out[r * unknownCount + q] = (forward[r] - miss[r]) / eps;
  }
  return out;
}

/** The step that cancels the misses to first order and ends nearest to the first vector in the weighted measure. */
function leastMove(
  jacobian: Float64Array,
  miss: Float64Array,
  first: Float64Array,
  z: Float64Array,
): Float64Array | null {
  const rows = miss.length;
  const home = first.map((value, i) => value - z[i]);
  const soft = stiffness.map((w) => 1 / (w * w));
  const matrix = new Float64Array(rows * rows);
  const right = new Float64Array(rows);
  for (let r = 0; r < rows; r++) {
    right[r] = -miss[r];
    for (let q = 0; q < unknownCount; q++) {
      right[r] -= jacobian[r * unknownCount + q] * home[q];
      for (let c = 0; c < rows; c++) {
        matrix[r * rows + c] += jacobian[r * unknownCount + q] * soft[q] * jacobian[c * unknownCount + q];
      }
    }
  }
  const pull = luSolve(matrix, rows, right);
  if (!pull.ok) return null;
  for (let q = 0; q < unknownCount; q++) {
    for (let r = 0; r < rows; r++) home[q] += soft[q] * jacobian[r * unknownCount + q] * pull.value[r];
  }
  return home;
}
