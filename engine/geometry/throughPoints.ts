/** The closed curve of continuous curvature through given points. */
import { done, failed, type Outcome, periodicSpline, splineValue } from "#engine/numerics";
import { curveJet, type PlaneCurve } from "./curve.ts";
import type { Polygon } from "./polygon.ts";

/**
 * Closed periodic cubic spline through the points, its parameter the length of the chords between them (so it is close
 * to arc length); C2, hence of continuous curvature. Points: at least 4, neighbours apart, not repeated at the end.
 * Fails with 'too-few-points' or 'points-coincide'.
 */
export function curveThroughPoints(points: Polygon): Outcome<PlaneCurve> {
  const n = points.length / 2;
  if (n < 4) return failed("too-few-points", `a closed curve needs at least 4 points, not ${n}`);
  const knots = new Float64Array(n + 1);
  const x = new Float64Array(n + 1);
  const y = new Float64Array(n + 1);
  for (let i = 0; i <= n; i++) {
    const at = i % n;
    x[i] = points[2 * at];
    y[i] = points[2 * at + 1];
    if (!Number.isFinite(x[i]) || !Number.isFinite(y[i]))
      return failed("not-finite", `point ${at + 1} is not finite`);
    if (i > 0) knots[i] = knots[i - 1] + Math.hypot(x[i] - x[i - 1], y[i] - y[i - 1]);
  }
  if (!Number.isFinite(knots[n])) return failed("not-finite", "the points lie beyond all measure");
  for (let i = 1; i <= n; i++) {
    if (knots[i] - knots[i - 1] <= 1e-9 * knots[n]) {
      return failed(
        "points-coincide",
        `points ${i} and ${(i % n) + 1} lie on the same place (${x[i]}, ${y[i]}) m`,
      );
    }
  }
  const sx = periodicSpline(knots, x);
  const sy = periodicSpline(knots, y);
  const jets = (derivative: 0 | 1 | 2): Float64Array =>
    Float64Array.from(
      Array.from(knots).flatMap((t, i) => {
        // The last knot is the first one: take its jet there, so that both are equal to the last bit.
        const at = i === n ? knots[0] : t;
        return [splineValue(sx, at, derivative), splineValue(sy, at, derivative)];
      }),
    );
  return done({ closed: true, knots, points: jets(0), tangents: jets(1), seconds: jets(2) });
}

/** The same closed curve with its first knot at parameter t; the parameter then runs from 0. */
export function startedAt(curve: PlaneCurve, t: number): PlaneCurve {
  const last = curve.knots.length - 1;
  const start = curve.knots[0];
  const period = curve.knots[last] - start;
  const shift = t - Math.floor((t - start) / period) * period;
  const near = 1e-9 * period;
  const later = Array.from(curve.knots.subarray(0, last))
    .map((knot) => (knot - shift > near ? knot - shift : knot - shift + period))
    .filter((knot) => knot > near && knot < period - near)
    .sort((a, b) => a - b);
  const knots = Float64Array.from([0, ...later, period]);
  const jets = Array.from(knots, (knot, i) => curveJet(curve, shift + (i === knots.length - 1 ? 0 : knot)));
  return {
    closed: true,
    knots,
    points: Float64Array.from(jets.flatMap((j) => [j[0], j[1]])),
    tangents: Float64Array.from(jets.flatMap((j) => [j[2], j[3]])),
    seconds: Float64Array.from(jets.flatMap((j) => [j[4], j[5]])),
  };
}
