import type { Tones } from "./pluckedPressure.ts";

/** Means of p(t)^2, plain and with each tone's amplitude weighted. */
export interface MeanSquares {
  readonly plain: number;
  readonly weighted: number;
}

/**
 * Mean of p(t)^2 over 0 .. duration (s), in closed form over all pairs of tones; a tone of weight 0 is left out of both means:
 *   p^2 = (1/2) Re sum_rs [z_r z_s + z_r conj(z_s)],   each product one damped exponential,
 * whose integral is (b_r b_s - z_r z_s)/(Z_r + Z_s) with Z = -decay + i omega and b = z exp(Z duration).
 */
export function meanSquare(tones: Tones, duration: number, weight: ArrayLike<number>): MeanSquares {
  const n = tones.count;
  // z, b, Z and the weight of the tones that count
  const ar = new Float64Array(n);
  const ai = new Float64Array(n);
  const br = new Float64Array(n);
  const bi = new Float64Array(n);
  const rate = new Float64Array(n);
  const omega = new Float64Array(n);
  const share = new Float64Array(n);
  let count = 0;
  let plain = 0;
  let weighted = 0;
  for (let k = 0; k < n; k++) {
    const own = weight[k]!;
    if (own === 0) continue;
    const r = count++;
    const g = tones.decay[k]!;
    const w = tones.omega[k]!;
    const fall = Math.exp(-g * duration);
    const c = fall * Math.cos(w * duration);
    const s = fall * Math.sin(w * duration);
    const xr = tones.re[k]!;
    const xi = tones.im[k]!;
    const yr = xr * c - xi * s;
    const yi = xr * s + xi * c;
    ar[r] = xr;
    ai[r] = xi;
    br[r] = yr;
    bi[r] = yi;
    rate[r] = g;
    omega[r] = w;
    share[r] = own;
    let row = 0;
    let rowPlain = 0;
    for (let q = 0; q <= r; q++) {
      const zr = ar[q]!;
      const zi = ai[q]!;
      const er = br[q]!;
      const ei = bi[q]!;
      const decay = g + rate[q]!;
      const sum = w + omega[q]!;
      const gap = w - omega[q]!;
      const pp = yr * er;
      const qq = yi * ei;
      const pq = yr * ei;
      const qp = yi * er;
      const kk = xr * zr;
      const ll = xi * zi;
      const kl = xr * zi;
      const lk = xi * zr;
      const both =
        ((pq + qp - kl - lk) * sum - (pp - qq - kk + ll) * decay) / (decay * decay + sum * sum) +
        ((qp - pq - lk + kl) * gap - (pp + qq - kk - ll) * decay) / (decay * decay + gap * gap);
      const value = q === r ? 0.5 * both : both;
      rowPlain += value;
      row += value * share[q]!;
    }
    plain += rowPlain;
    weighted += own * row;
  }
  return { plain: plain / duration, weighted: weighted / duration };
}
