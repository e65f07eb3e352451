/** A batten bent round weights, and the fewest weights that hold one along a given curve. */
import { done, failed, type Outcome } from "#engine/numerics";
import { curvePoint, curveTangent, type PlaneCurve, sampleCurve } from "./curve.ts";
import { type FairRest, settledCurve } from "./fairCurve.ts";
import { landmarks } from "./landmarks.ts";
import { distanceToPolyline, type Point, type Polygon } from "./polygon.ts";

/** Points of a curve at which it is held against another, and how many a curve is told by; m apart at most. */
const compared = 0.004;

/** A weight on the batten: where it lies, which way the batten runs there, and whether the weight holds it that way. */
export interface BattenWeight {
  readonly at: Point;
  /** rad, in the sense of running anticlockwise: held, or a guess to start from; null: as the neighbours lie. */
  readonly heading: number | null;
  readonly held: boolean;
}

/**
 * The closed curve of least change of curvature through the weights, in their order, anticlockwise; free to turn at each that
 * does not hold it (see `fairCurve`). Points of a circle give the circle. At least 4 weights.
 * Fails: 'too-few-points', 'points-coincide', 'weights-order' (the chain through them does not turn once round), 'no-fair-curve'.
 */
export function battenThrough(weights: readonly BattenWeight[]): Outcome<PlaneCurve> {
  const bent = bentBatten(weights, null);
  return bent.ok ? done(bent.value.curve) : bent;
}

/** The same while a hand moves the weights: begun from where the batten lay `before`, if that is known. */
export function bentBatten(
  weights: readonly BattenWeight[],
  before: FairRest | null,
): Outcome<{ readonly curve: PlaneCurve; readonly rest: FairRest }> {
  const n = weights.length;
  if (n < 4) return failed("too-few-points", `a batten needs 4 weights, not ${n}`);
  const [x0, y0] = weights[0].at;
  const size = Math.max(...weights.map(({ at }) => Math.hypot(at[0] - x0, at[1] - y0)));
  for (const [i, { at }] of weights.entries()) {
    const next = weights[(i + 1) % n].at;
    if (!(Math.hypot(next[0] - at[0], next[1] - at[1]) > 1e-6 * size))
      return failed("points-coincide", `weights ${i + 1} and ${((i + 1) % n) + 1} lie on the same place`);
  }
  const headings = risingHeadings(weights);
  if (headings === null)
    return failed("weights-order", "the weights do not lead once round, anticlockwise, in their order");
  return settledCurve(
    weights.map(({ at, held }, i) => ({ point: at, heading: held ? headings[i] : null, curvature: null })),
    headings,
    "variation",
    before,
  );
}

/** A heading for each weight, rising by 2 pi in all once round; null if they do not. */
function risingHeadings(weights: readonly BattenWeight[]): readonly number[] | null {
  const raw = weights.map(({ heading }, i) => heading ?? roughHeading(weights, i));
  const turn = (by: number): number => by - 2 * Math.PI * Math.round(by / (2 * Math.PI));
  const out = [raw[0]];
  for (let i = 1; i < raw.length; i++) out.push(out[i - 1] + turn(raw[i] - out[i - 1]));
  const last = out[out.length - 1];
  const whole = last + turn(raw[0] - last) - out[0];
  return Math.abs(whole - 2 * Math.PI) < 1e-6 ? out : null;
}

/** Heading of the circle through a weight and its neighbours. */
function roughHeading(weights: readonly BattenWeight[], i: number): number {
  const n = weights.length;
  const [a, here, b] = [-1, 0, 1].map((step) => weights[(i + step + n) % n].at);
  const [ux, uy] = [here[0] - a[0], here[1] - a[1]];
  const [vx, vy] = [b[0] - here[0], b[1] - here[1]];
  const [u, v] = [Math.hypot(ux, uy), Math.hypot(vx, vy)];
  return Math.atan2((uy * v) / u + (vy * u) / v, (ux * v) / u + (vx * u) / v);
}

export interface LaidBatten {
  readonly weights: readonly BattenWeight[];
  /** Farthest that the batten lies from the curve, m. */
  readonly gap: number;
}

/**
 * Weights on a closed curve (anticlockwise, from the tail) that hold a batten along it: bouts, waists and both ends hold its
 * heading too; where there are none, six even places that do not. Then always one more where it lies off most, until it lies
 * `within` m or `most` weights are set. `length`: of the body, for an outline; null for any other curve.
 * Fails as `battenThrough`.
 */
export function layBatten(
  curve: PlaneCurve,
  length: number | null,
  within: number,
  most = 20,
): Outcome<LaidBatten> {
  const points = sampleCurve(curve, compared);
  const marks = length === null ? null : landmarkParameters(curve, length);
  const holding = new Set(marks ?? []);
  let parameters = marks ?? evenParameters(curve, 6);
  for (;;) {
    const weights = parameters.map((t): BattenWeight => {
      const [dx, dy] = curveTangent(curve, t);
      return { at: curvePoint(curve, t), heading: Math.atan2(dy, dx), held: holding.has(t) };
    });
    const laid = battenThrough(weights);
    const off = laid.ok ? farthestOff(points, sampleCurve(laid.value, compared)) : null;
    if (off !== null && (off.gap <= within || parameters.length >= most))
      return done({ weights, gap: off.gap });
    if (!laid.ok && parameters.length >= most) return laid;
    // where no batten comes to rest there are too few of them: the widest stretch gets one
    parameters = withParameter(
      parameters,
      off === null ? widestGap(parameters, curve) : parameterNear(curve, off.at),
      curve,
    );
  }
}

function landmarkParameters(curve: PlaneCurve, length: number): number[] | null {
  const { tail, neckEnd, right, left } = landmarks(curve, length);
  if (right === null || left === null) return null;
  return [
    tail,
    neckEnd,
    ...[right, left].flatMap((side) => [side.lowerBout, side.waist, side.upperBout]),
  ].sort((a, b) => a - b);
}

function evenParameters(curve: PlaneCurve, count: number): number[] {
  const [start, end] = [curve.knots[0], curve.knots[curve.knots.length - 1]];
  return Array.from({ length: count }, (_, i) => start + ((end - start) * i) / count);
}

function widestGap(parameters: readonly number[], curve: PlaneCurve): number {
  const period = curve.knots[curve.knots.length - 1] - curve.knots[0];
  const next = (i: number): number => parameters[i + 1] ?? parameters[0] + period;
  let widest = 0;
  for (let i = 1; i < parameters.length; i++)
    if (next(i) - parameters[i] > next(widest) - parameters[widest]) widest = i;
  return (parameters[widest] + next(widest)) / 2;
}

/** Where the points of one closed chain lie farthest from another. */
function farthestOff(points: Polygon, chain: Polygon): { readonly gap: number; readonly at: Point } {
  let gap = 0;
  let at: Point = [points[0], points[1]];
  for (let i = 0; i < points.length; i += 2) {
    const here = distanceToPolyline(chain, points[i], points[i + 1], true);
    if (here > gap) [gap, at] = [here, [points[i], points[i + 1]]];
  }
  return { gap, at };
}

function parameterNear(curve: PlaneCurve, [x, y]: Point): number {
  const [start, end] = [curve.knots[0], curve.knots[curve.knots.length - 1]];
  let best = start;
  let least = Number.POSITIVE_INFINITY;
  const steps = 2000;
  for (let i = 0; i < steps; i++) {
    const t = start + ((end - start) * i) / steps;
    const [px, py] = curvePoint(curve, t);
    const gap = Math.hypot(px - x, py - y);
    if (gap < least) [least, best] = [gap, t];
  }
  return best;
}

/** The parameters with one more; where it would all but touch another, half way to the next instead. */
function withParameter(parameters: readonly number[], t: number, curve: PlaneCurve): number[] {
  const period = curve.knots[curve.knots.length - 1] - curve.knots[0];
  const near = parameters.findIndex((p) => Math.abs(p - t) < period / 400);
  if (near < 0) return [...parameters, t].sort((a, b) => a - b);
  const next = parameters[near + 1] ?? parameters[0] + period;
  return [...parameters, (parameters[near] + next) / 2].sort((a, b) => a - b);
}
