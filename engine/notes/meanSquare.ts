import type { Tones } from "./pluckedPressure.ts";

/**
 * Mean of p(t)^2 over 0 .. duration (s), in closed form over all pairs of tones, each tone's amplitude times `weight`
 * (by tone; leave a tone out with 0):
 *   p^2 = (1/2) Re sum_rs [z_r z_s + z_r conj(z_s)],   each product one damped exponential.
 */
export function meanSquare(tones: Tones, duration: number, weight: ArrayLike<number>): number {
  let sum = 0;
  for (let r = 0; r < tones.count; r++) {
    if (weight[r] === 0) continue;
    for (let s = 0; s <= r; s++) {
      if (weight[s] === 0) continue;
      const both = (r === s ? 0.5 : 1) * weight[r]! * weight[s]!;
      const rate = tones.decay[r]! + tones.decay[s]!;
      const [ar, ai, br, bi] = [tones.re[r]!, tones.im[r]!, tones.re[s]!, tones.im[s]!];
      sum +=
        both *
        integral(ar * br - ai * bi, ar * bi + ai * br, rate, tones.omega[r]! + tones.omega[s]!, duration);
      sum +=
        both *
        integral(ar * br + ai * bi, ai * br - ar * bi, rate, tones.omega[r]! - tones.omega[s]!, duration);
    }
  }
  return sum / duration;
}

/** Re of the integral over 0 .. t of (re + i im) exp((i omega - rate) t). */
function integral(re: number, im: number, rate: number, omega: number, t: number): number {
  const fall = Math.exp(-rate * t);
  // (e^{z t} - 1)/z with z = -rate + i omega
  const er = fall * Math.cos(omega * t) - 1;
  const ei = fall * Math.sin(omega * t);
  const size = rate * rate + omega * omega;
  const qr = (-er * rate + ei * omega) / size;
  const qi = (-ei * rate - er * omega) / size;
  return re * qr - im * qi;
}
