/** Straight lines between given values. */
import { spanOf } from "./spline.ts";

/** The value at t of the broken line through (knots, values), knots ascending; beyond the ends the end value holds. */
export function piecewiseLinear(knots: Float64Array, values: Float64Array, t: number): number {
  const last = knots.length - 1;
  if (last === 0 || t <= knots[0]) return values[0];
  if (t >= knots[last]) return values[last];
  const i = spanOf(knots, t);
  const share = (t - knots[i]) / (knots[i + 1] - knots[i]);
  return values[i] + share * (values[i + 1] - values[i]);
}
