import type { StretchedString, StringLoss } from "./design.ts";

/** Partials 1 .. count of a string on rigid, hinged ends: omega rad/s (undamped) and loss factor 1/Q, by partial. */
export interface StringPartials {
  readonly omega: Float64Array;
  readonly lossFactor: Float64Array;
}

/**
 *   omega_n^2 = (T k^2 + EI k^4)/mu,  k = n pi/L       (FLETCHER-1964; slope free at both ends)
 *   eta_n = [T (friction + air/omega) + EI bending k^2]/(T + EI k^2)     (WOODHOUSE-2004)
 */
export function stringPartials(s: StretchedString, count: number): StringPartials {
  const omega = new Float64Array(count);
  const lossFactor = new Float64Array(count);
  for (let n = 1; n <= count; n++) {
    const k = (n * Math.PI) / s.length;
    const w = Math.sqrt((s.tension * k * k + s.bendingStiffness * k ** 4) / s.linearDensity);
    omega[n - 1] = w;
    lossFactor[n - 1] = stringLossFactor(s.loss, s.tension, s.bendingStiffness, w, k);
  }
  return { omega, lossFactor };
}

/** Loss factor of a wave of number k (1/m) and omega (rad/s) on a string; see stringPartials. */
export function stringLossFactor(
  loss: StringLoss,
  tension: number,
  bendingStiffness: number,
  omega: number,
  k: number,
): number {
  const bent = bendingStiffness * k * k;
  return (tension * (loss.friction + loss.air / omega) + bent * loss.bending) / (tension + bent);
}

/** Number of partials at or below `frequency` (Hz). */
export function partialsBelow(s: StretchedString, frequency: number): number {
  // EI k^4 + T k^2 = mu w^2, solved for k
  const mw = s.linearDensity * (2 * Math.PI * frequency) ** 2;
  const root = Math.sqrt(s.tension ** 2 + 4 * s.bendingStiffness * mw);
  const k2 = (2 * mw) / (s.tension + root);
  return Math.floor((Math.sqrt(k2) * s.length) / Math.PI);
}
