import type { BodyResponse } from "./bodyResponse.ts";
import { poleMobility } from "./crownMobility.ts";
import { pressureAt } from "./modePressure.ts";

/** Response to a normal force at the saddle's midpoint crown, for drawing. */
export interface ResponseCurve {
  /** Hz. */
  readonly frequency: Float64Array;
  /** |velocity / force| there along the normal, m/(s N). */
  readonly mobility: Float64Array;
  /** |pressure / force| at 1 m, Pa/N: foreseen up to `validToHz` only. */
  readonly pressure: Float64Array;
}

/**
 * Y = sum of modes + rigid motions + residual;  pressure by the outer field where there is one, else by
 * p = rho/(4 pi r) x d/dt(net volume velocity) at r = 1 m (a small source in free space). frequency: Hz, each above 0.
 */
export function responseCurve(body: BodyResponse, frequency: Float64Array): ResponseCurve {
  const { rigidCount: r, count, imaginary } = body;
  const recoil = body.rigidSaddleShape.reduce((sum, s) => sum + s * s, 0);
  const mobility = new Float64Array(frequency.length);
  const pressure = new Float64Array(frequency.length);
  frequency.forEach((f, k) => {
    const w = 2 * Math.PI * f;
    const heard = pressureAt(body, 0, w);
    let [vr, vi, ar, ai] = [0, w * body.saddleResidual - recoil / w, 0, 0];
    // Acceleration of the rigid motions: force over mass.
    for (let i = 0; i < r && heard; i++) {
      ar += heard.re[i] * body.rigidSaddleShape[i];
      ai += heard.im[i] * body.rigidSaddleShape[i];
    }
    for (let i = 0; i < count; i++) {
      const [hr, hi] = poleMobility(2 * Math.PI * body.frequency[i], body.q[i], w);
      const [a, b] = [body.saddleShape[i], imaginary.saddle[i]];
      // s h, and times s; acceleration i w s h.
      const [sr, si] = [a * hr - b * hi, a * hi + b * hr];
      vr += a * sr - b * si;
      vi += a * si + b * sr;
      const [pr, pi] = heard ? [heard.re[r + i], heard.im[r + i]] : [body.pressurePerAcceleration[i], 0];
      ar += w * (-pr * si - pi * sr);
      ai += w * (pr * sr - pi * si);
    }
    mobility[k] = Math.hypot(vr, vi);
    pressure[k] = Math.hypot(ar, ai);
  });
  return { frequency, mobility, pressure };
}
