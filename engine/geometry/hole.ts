/** The sound hole as a closed curve. */
import { done, failed, type Outcome } from "#engine/numerics";
import type { HoleSpec } from "./bodySpec.ts";
import type { PlaneCurve } from "./curve.ts";
import { anticlockwise } from "./polygon.ts";
import { curveThroughPoints } from "./throughPoints.ts";

const ellipseKnots = 96;

/**
 * The hole's edge, anticlockwise. An ellipse is taken at 96 knots with its exact derivatives (within 1e-10 of its size);
 * its parameter is the eccentric angle times the mean semi-axis, not arc length. Points are joined by a periodic spline.
 * Fails: 'hole-size', and the reasons of `curveThroughPoints`.
 */
export function holeCurve(spec: HoleSpec): Outcome<PlaneCurve> {
  if (spec.kind === "curve") return curveThroughPoints(anticlockwise(spec.points));
  const [a, b] = spec.semiAxes;
  if (!(a > 0 && b > 0 && Number.isFinite(a + b)))
    return failed("hole-size", `half axes of the hole are ${a} and ${b} m`);
  if (![...spec.centre, spec.angle].every(Number.isFinite))
    return failed("hole-size", "the hole's place is not finite");
  const unit = (a + b) / 2;
  const cos = Math.cos(spec.angle);
  const sin = Math.sin(spec.angle);
  const turned = (u: number, v: number): readonly [number, number] => [cos * u - sin * v, sin * u + cos * v];
  const knots: number[] = [];
  const points: number[] = [];
  const tangents: number[] = [];
  const seconds: number[] = [];
  for (let i = 0; i <= ellipseKnots; i++) {
    const angle = (2 * Math.PI * (i % ellipseKnots)) / ellipseKnots;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    knots.push((2 * Math.PI * i * unit) / ellipseKnots);
    const [x, y] = turned(a * c, b * s);
    points.push(spec.centre[0] + x, spec.centre[1] + y);
    tangents.push(...turned((-a * s) / unit, (b * c) / unit));
    seconds.push(...turned((-a * c) / unit ** 2, (-b * s) / unit ** 2));
  }
  return done({
    closed: true,
    knots: Float64Array.from(knots),
    points: Float64Array.from(points),
    tangents: Float64Array.from(tangents),
    seconds: Float64Array.from(seconds),
  });
}
