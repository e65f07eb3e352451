/** How fair the curves of a plan run: curvature comb, jumps, wavers, and bending against the least possible. */
import {
  curveCurvature,
  curveLength,
  curveParameters,
  curvePoint,
  curveTangent,
  integrateAlong,
  type PlaneCurve,
} from "./curve.ts";
import { type FairPlace, fairCurve } from "./fairCurve.ts";
import { holePart, landmarks, type OutlinePlan, outlinePart } from "./landmarks.ts";
import type { BodyPlan } from "./plan.ts";
import type { Point } from "./polygon.ts";

/** A place where the curvature jumps or wavers. */
export interface FairnessFinding {
  readonly kind: "jump" | "waver";
  readonly place: Point;
  /** Which part of the curve, in shop words. */
  readonly part: string;
  /** Curvature just before and after a jump; at the two neighbouring extrema of a waver, 1/m. */
  readonly curvatures: readonly [number, number];
}

export interface FairnessReport {
  /** The comb: places evenly spaced along the curve, and the signed curvature there. */
  readonly comb: { readonly points: Float64Array; readonly curvature: Float64Array };
  readonly findings: readonly FairnessFinding[];
  /** Integral of curvature^2 along the curve (an outline before its cutaway), 1/m. */
  readonly bendingEnergy: number;
  /** The same of the least-bent closed curve through the same stations; null if there is none to be found. */
  readonly minimumEnergy: number | null;
  /** bendingEnergy / minimumEnergy: 1 at the least. */
  readonly energyRatio: number | null;
}

/** Samples round the curve: a step is 2.5 mm on a usual outline, 0.5 mm on a usual hole. */
const samples = 600;

/**
 * Fairness of the outline or of the hole.
 *  - jump: within a stretch of 1/400 or 1/200 of the curve's length, while the edge turns by less than 0.3 rad, the
 *    curvature changes by more than a quarter of the curve's median |curvature|, and 2.5 times more than in the
 *    stretches of equal length before and after.
 *  - waver: two neighbouring extrema of curvature closer together than 1/30 of the curve's length (5 cm on a body) that
 *    the shape does not need. A convex stretch (between two inflections) may have two tight places and one flatter
 *    between them, a concave stretch one tight place, a convex closed curve two tight and two flat places; extrema
 *    farther apart are shape, not waver. What stands out by less than a tenth of the median |curvature| is not counted.
 * Both rules are our own judgement, no source.
 */
export function fairness(plan: BodyPlan, which: "outline" | "hole"): FairnessReport {
  if (which === "outline") return outlineFairness(plan);
  return reportOf(plan.hole, plan.hole, evenParameters(plan.hole, 8), (place) => holePart(plan, place));
}

/** The outline's alone, while it is being shaped and no plan is made of it yet. */
export function outlineFairness(plan: OutlinePlan): FairnessReport {
  return reportOf(plan.outline, plan.fullOutline, outlineStations(plan), (place) => outlinePart(plan, place));
}

function reportOf(
  curve: PlaneCurve,
  bent: PlaneCurve,
  stations: readonly number[] | null,
  part: (place: Point) => string,
): FairnessReport {
  const points = new Float64Array(2 * samples);
  const curvature = new Float64Array(samples);
  for (const [i, t] of evenParameters(curve, samples).entries()) {
    points.set(curvePoint(curve, t), 2 * i);
    curvature[i] = curveCurvature(curve, t);
  }
  const median = Array.from(curvature, Math.abs).sort((a, b) => a - b)[samples / 2];
  const jumps = curvatureJumps(curvature, 0.25 * median, curveLength(curve) / samples);
  // A curve through points rings beside a jump; those ripples are the jump's.
  const wavers = curvatureWavers(curvature, 0.1 * median).filter(
    (waver) => !jumps.some((jump) => samplesApart(waver.at, jump.at, samples) < samples / 30),
  );
  const finding =
    (kind: "jump" | "waver") =>
    ({ at, curvatures }: Found): FairnessFinding => {
      const place: Point = [points[2 * (at % samples)], points[2 * (at % samples) + 1]];
      return { kind, place, part: part(place), curvatures };
    };
  const findings = [...jumps.map(finding("jump")), ...wavers.map(finding("waver"))];
  const bendingEnergy = integrateAlong(bent, (t) => curveCurvature(bent, t) ** 2);
  const minimumEnergy = stations === null ? null : leastEnergy(bent, stations);
  return {
    comb: { points, curvature },
    findings,
    bendingEnergy,
    minimumEnergy,
    energyRatio: minimumEnergy === null ? null : bendingEnergy / minimumEnergy,
  };
}

/** Parameters at equal steps of arc length round a closed curve. */
function evenParameters(curve: PlaneCurve, count: number): number[] {
  const steps = curveParameters(curve, curveLength(curve) / (8 * count));
  const places = [...steps, curve.knots[curve.knots.length - 1]];
  const walked = new Float64Array(places.length);
  for (let i = 1; i < places.length; i++) {
    const [ax, ay] = curvePoint(curve, places[i - 1]);
    const [bx, by] = curvePoint(curve, places[i]);
    walked[i] = walked[i - 1] + Math.hypot(bx - ax, by - ay);
  }
  const whole = walked[walked.length - 1];
  const out: number[] = [];
  let i = 0;
  for (let k = 0; k < count; k++) {
    const target = (k * whole) / count;
    while (walked[i + 1] < target) i++;
    const f = (target - walked[i]) / (walked[i + 1] - walked[i]);
    out.push(places[i] + f * (places[i + 1] - places[i]));
  }
  return out;
}

interface Found {
  readonly at: number;
  readonly curvatures: readonly [number, number];
}

/** Sudden changes in a closed row of curvatures, `step` m apart; see `fairness`. */
export function curvatureJumps(curvature: Float64Array, least: number, step: number): readonly Found[] {
  const n = curvature.length;
  const at = (i: number): number => curvature[((i % n) + n) % n];
  const found: (Found & { readonly change: number })[] = [];
  for (const width of [Math.max(1, Math.round(n / 400)), Math.max(2, Math.round(n / 200))]) {
    const change = (i: number): number => Math.abs(at(i + width) - at(i));
    for (let i = 0; i < n; i++) {
      const here = change(i);
      if (width * step * Math.max(Math.abs(at(i)), Math.abs(at(i + width))) > 0.3) continue;
      if (here < least || here < 2.5 * Math.max(change(i - width), change(i + width))) continue;
      found.push({ at: i + Math.round(width / 2), curvatures: [at(i), at(i + width)], change: here });
    }
  }
  // One jump shows at several neighbouring samples: keep the strongest of each cluster.
  const apart = Math.ceil(n / 60);
  const kept: (Found & { readonly change: number })[] = [];
  for (const jump of found.sort((a, b) => b.change - a.change || a.at - b.at)) {
    const near = (other: Found): boolean => samplesApart(other.at, jump.at, n) < apart;
    if (!kept.some(near)) kept.push(jump);
  }
  return kept.sort((a, b) => a.at - b.at).map(({ at: place, curvatures }) => ({ at: place, curvatures }));
}

/** How far two indices of a closed row of n lie apart. */
function samplesApart(a: number, b: number, n: number): number {
  const gap = Math.abs(a - b) % n;
  return Math.min(gap, n - gap);
}

/** Extrema of a closed row of curvatures beyond what its stretches need, least prominent first; see `fairness`. */
export function curvatureWavers(curvature: Float64Array, least: number): readonly Found[] {
  const n = curvature.length;
  const wavers: Found[] = [];
  const signChanges = Array.from({ length: n }, (_, i) => i).filter(
    (i) => curvature[i] > 0 !== curvature[(i + 1) % n] > 0,
  );
  if (signChanges.length === 0) {
    const extrema = extremaOf(Array.from(curvature), true);
    dropSmall(extrema, curvature, least, 0, true);
    return droppedBeyond(extrema, curvature, 4, true);
  }
  for (const [k, from] of signChanges.entries()) {
    const to = signChanges[(k + 1) % signChanges.length];
    const length = (to - from + n) % n || n;
    const indices = Array.from({ length }, (_, i) => (from + 1 + i) % n);
    const local = indices.map((i) => curvature[i]);
    const extrema = extremaOf(local, false).map((i) => indices[i]);
    dropSmall(extrema, curvature, least, 1, false);
    wavers.push(...droppedBeyond(extrema, curvature, curvature[indices[0]] > 0 ? 3 : 1, false));
  }
  return wavers;
}

/** Indices of the local extrema of a row, in order. */
function extremaOf(values: readonly number[], closed: boolean): number[] {
  const n = values.length;
  const out: number[] = [];
  for (let i = closed ? 0 : 1; i < (closed ? n : n - 1); i++) {
    const before = values[i] - values[(i - 1 + n) % n];
    let next = (i + 1) % n;
    while (closed && values[next] === values[i] && next !== i) next = (next + 1) % n;
    const after = values[next] - values[i];
    if (before * after < 0) out.push(i);
  }
  return out;
}

/** Takes out neighbouring extrema that differ by less than `least`, smallest first, down to `floor` of them. */
function dropSmall(
  extrema: number[],
  curvature: Float64Array,
  least: number,
  floor: number,
  closed: boolean,
): void {
  while (extrema.length >= floor + 2) {
    const k = closestPair(extrema, curvature, closed, curvature.length);
    if (k < 0 || pairGap(extrema, curvature, k) >= least) return;
    removePair(extrema, k);
  }
}

/** Takes out near neighbours, least different first, while more than `allowed` extrema are left; returns what was taken. */
function droppedBeyond(
  extrema: number[],
  curvature: Float64Array,
  allowed: number,
  closed: boolean,
): Found[] {
  const out: Found[] = [];
  while (extrema.length >= allowed + 2) {
    const k = closestPair(extrema, curvature, closed, curvature.length / 30);
    if (k < 0) break;
    const a = extrema[k];
    const b = extrema[(k + 1) % extrema.length];
    out.push({ at: b, curvatures: [curvature[a], curvature[b]] });
    removePair(extrema, k);
  }
  return out;
}

/** The pair of neighbours, no farther apart than `reach` samples, that differs least; -1 if there is none. */
function closestPair(
  extrema: readonly number[],
  curvature: Float64Array,
  closed: boolean,
  reach: number,
): number {
  const n = curvature.length;
  let best = -1;
  for (let k = 0; k < (closed ? extrema.length : extrema.length - 1); k++) {
    const apart = (extrema[(k + 1) % extrema.length] - extrema[k] + n) % n;
    if (apart > reach) continue;
    if (best < 0 || pairGap(extrema, curvature, k) < pairGap(extrema, curvature, best)) best = k;
  }
  return best;
}

function pairGap(extrema: readonly number[], curvature: Float64Array, k: number): number {
  return Math.abs(curvature[extrema[k]] - curvature[extrema[(k + 1) % extrema.length]]);
}

function removePair(extrema: number[], k: number): void {
  const second = (k + 1) % extrema.length;
  extrema.splice(Math.max(k, second), 1);
  extrema.splice(Math.min(k, second), 1);
}

/** Tail, lower bout, waist, upper bout, neck end and back on the other side; null if the outline has no such places. */
function outlineStations(plan: OutlinePlan): readonly number[] | null {
  const { tail, neckEnd, right, left } = landmarks(plan.fullOutline, plan.length);
  if (right === null || left === null) return null;
  return [
    tail,
    right.lowerBout,
    right.waist,
    right.upperBout,
    neckEnd,
    left.upperBout,
    left.waist,
    left.lowerBout,
  ];
}

/** Bending energy of the minimum-energy closed curve through the places at these parameters; null if none is found. */
function leastEnergy(curve: PlaneCurve, parameters: readonly number[]): number | null {
  const headings: number[] = [];
  for (const t of parameters) {
    const [dx, dy] = curveTangent(curve, t);
    const before = headings.at(-1);
    const heading = Math.atan2(dy, dx);
    headings.push(before === undefined ? heading : before + nearestTurn(heading - before));
  }
  const places = parameters.map(
    (t): FairPlace => ({ point: curvePoint(curve, t), heading: null, curvature: null }),
  );
  const least = fairCurve(places, headings, "bending");
  if (!least.ok) return null;
  return integrateAlong(least.value, (t) => curveCurvature(least.value, t) ** 2);
}

/** The same angle between -pi and pi. */
function nearestTurn(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}
