import type { BodyResponse } from "./bodyResponse.ts";
import { modeMobility } from "./crownMobility.ts";

/** Response to a normal force at the saddle's midpoint crown, for drawing. */
export interface ResponseCurve {
  /** Hz. */
  readonly frequency: Float64Array;
  /** |velocity / force| there along the normal, m/(s N). */
  readonly mobility: Float64Array;
  /** |pressure / force| at 1 m, Pa/N, by volume velocity: foreseen up to `validToHz` only. */
  readonly pressure: Float64Array;
}

/**
 * Y = sum of modes + rigid motions + residual;  p = rho/(4 pi r) x d/dt(net volume velocity) at r = 1 m (a small source in free
 * space). frequency: Hz, each above 0.
 */
export function responseCurve(body: BodyResponse, frequency: Float64Array): ResponseCurve {
  const recoil = body.rigidSaddleShape.reduce((sum, s) => sum + s * s, 0);
  const mobility = new Float64Array(frequency.length);
  const pressure = new Float64Array(frequency.length);
  frequency.forEach((f, k) => {
    const w = 2 * Math.PI * f;
    let [vr, vi, pr, pi] = [0, w * body.saddleResidual - recoil / w, 0, 0];
    for (let i = 0; i < body.count; i++) {
      const [hr, hi] = modeMobility(2 * Math.PI * body.frequency[i], body.q[i], w);
      const s = body.saddleShape[i];
      vr += s * s * hr;
      vi += s * s * hi;
      pr += s * body.pressurePerAcceleration[i] * hr;
      pi += s * body.pressurePerAcceleration[i] * hi;
    }
    mobility[k] = Math.hypot(vr, vi);
    pressure[k] = w * Math.hypot(pr, pi);
  });
  return { frequency, mobility, pressure };
}
