import type { Tones } from "./pluckedPressure.ts";

/**
 * The energy that is left at t, E(t) = integral from t to infinity of p^2, as a form of the tones' turning and falling
 * e_r(t) = exp(Z_r t), Z = -decay + i omega:
 *   E = Re sum_r sum_{s <= r} e_r (T_rs e_s + U_rs conj(e_s)),
 *   T = -z_r z_s/(Z_r + Z_s),  U = -z_r conj(z_s)/(Z_r + conj(Z_s)),  half of them on the diagonal
 */
export interface EnergyForm {
  /** s: from here on. */
  readonly early: number;
  readonly count: number;
  readonly omega: Float64Array;
  readonly decay: Float64Array;
  /** s: when each tone has become negligible; descending. */
  readonly until: Float64Array;
  /** By pair, s <= r, r slow: Re(T + U), Im(T - U), Im(T + U), Re(T - U). */
  readonly pairs: Float64Array;
  /** Room for the turning and falling tones. */
  readonly turned: Float64Array;
}

/** Share of the energy at -25 dB. */
const lateShare = 10 ** -2.5;

/**
 * `own`: energy of each tone alone. Tones that hold less than the share `negligible` of what is left when the whole has
 * fallen by 25 dB are left out: at once if that is so at `early`, else from the time when it is.
 */
export function energyForm(tones: Tones, own: Float64Array, early: number, negligible: number): EnergyForm {
  let whole = 0;
  for (let r = 0; r < tones.count; r++) whole += own[r]!;
  const least = negligible * lateShare * whole;
  const end = new Float64Array(tones.count);
  const kept: number[] = [];
  for (let r = 0; r < tones.count; r++) {
    end[r] = Math.log(own[r]! / least) / (2 * tones.decay[r]!);
    if (end[r]! > early) kept.push(r);
  }
  kept.sort((a, b) => end[b]! - end[a]!);
  const count = kept.length;
  const pairs = new Float64Array(2 * count * (count + 1));
  let k = 0;
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++, k += 4) {
      pair(tones, kept[i]!, kept[j]!, pairs, k);
    }
  }
  return {
    early,
    count,
    omega: picked(tones.omega, kept),
    decay: picked(tones.decay, kept),
    until: picked(end, kept),
    pairs,
    turned: new Float64Array(2 * count),
  };
}

function picked(values: Float64Array, places: readonly number[]): Float64Array {
  const out = new Float64Array(places.length);
  for (let i = 0; i < out.length; i++) out[i] = values[places[i]!]!;
  return out;
}

function pair(tones: Tones, r: number, s: number, out: Float64Array, k: number): void {
  const half = r === s ? 0.5 : 1;
  const ar = half * tones.re[r]!;
  const ai = half * tones.im[r]!;
  const br = tones.re[s]!;
  const bi = tones.im[s]!;
  const rate = tones.decay[r]! + tones.decay[s]!;
  const sum = tones.omega[r]! + tones.omega[s]!;
  const gap = tones.omega[r]! - tones.omega[s]!;
  // over rate - i sum, and rate - i gap
  const far = 1 / (rate * rate + sum * sum);
  const near = 1 / (rate * rate + gap * gap);
  const tr = ar * br - ai * bi;
  const ti = ar * bi + ai * br;
  const ur = ar * br + ai * bi;
  const ui = ai * br - ar * bi;
  const tRe = (tr * rate - ti * sum) * far;
  const tIm = (tr * sum + ti * rate) * far;
  const uRe = (ur * rate - ui * gap) * near;
  const uIm = (ur * gap + ui * rate) * near;
  out[k] = tRe + uRe;
  out[k + 1] = tIm - uIm;
  out[k + 2] = tIm + uIm;
  out[k + 3] = tRe - uRe;
}

/** E(0) with every pair of tones in it. */
export function wholeEnergy(tones: Tones): number {
  const { count, omega, decay, re, im } = tones;
  let energy = 0;
  for (let r = 0; r < count; r++) {
    const ar = re[r]!;
    const ai = im[r]!;
    const w = omega[r]!;
    const g = decay[r]!;
    let row = 0;
    for (let s = 0; s < r; s++) {
      const pp = ar * re[s]!;
      const qq = ai * im[s]!;
      const pq = ar * im[s]!;
      const qp = ai * re[s]!;
      const rate = g + decay[s]!;
      const sum = w + omega[s]!;
      const gap = w - omega[s]!;
      row +=
        ((pp - qq) * rate - (pq + qp) * sum) / (rate * rate + sum * sum) +
        ((pp + qq) * rate - (qp - pq) * gap) / (rate * rate + gap * gap);
    }
    const size = g * g + w * w;
    energy += row + 0.25 * (((ar * ar - ai * ai) * g - 2 * ar * ai * w) / size + (ar * ar + ai * ai) / g);
  }
  return energy;
}

/** E at t >= early. */
export function energyAt(form: EnergyForm, t: number): number {
  return formAt(form, turnTo(form, t), form.turned);
}

/** E at `count` even steps from `from` >= early on, every tone turned on from the step before. */
export function energiesFrom(form: EnergyForm, from: number, step: number, count: number): Float64Array {
  const { omega, decay, until, turned } = form;
  const tones = turnTo(form, from);
  const turn = new Float64Array(2 * tones);
  for (let i = 0; i < tones; i++) {
    const fall = Math.exp(-decay[i]! * step);
    turn[2 * i] = fall * Math.cos(omega[i]! * step);
    turn[2 * i + 1] = fall * Math.sin(omega[i]! * step);
  }
  const out = new Float64Array(count);
  let left = tones;
  for (let k = 0; k < count; k++) {
    while (left > 0 && until[left - 1]! <= from + k * step) left--;
    out[k] = formAt(form, left, turned);
    for (let i = 0; i < 2 * left; i += 2) {
      const c = turned[i]!;
      const s = turned[i + 1]!;
      turned[i] = c * turn[i]! - s * turn[i + 1]!;
      turned[i + 1] = c * turn[i + 1]! + s * turn[i]!;
    }
  }
  return out;
}

/** Turns the tones that count at t to there; how many they are. */
function turnTo({ count, omega, decay, until, turned }: EnergyForm, t: number): number {
  let i = 0;
  for (; i < count && until[i]! > t; i++) {
    const fall = Math.exp(-decay[i]! * t);
    turned[2 * i] = fall * Math.cos(omega[i]! * t);
    turned[2 * i + 1] = fall * Math.sin(omega[i]! * t);
  }
  return i;
}

function formAt({ pairs }: EnergyForm, count: number, turned: Float64Array): number {
  let energy = 0;
  let k = 0;
  for (let i = 0; i < count; i++) {
    const er = turned[2 * i]!;
    const ei = turned[2 * i + 1]!;
    let re = 0;
    let im = 0;
    for (let j = 0; j <= 2 * i; j += 2, k += 4) {
      const c = turned[j]!;
      const s = turned[j + 1]!;
      // T e + U conj(e)
      re += pairs[k]! * c - pairs[k + 1]! * s;
      im += pairs[k + 2]! * c + pairs[k + 3]! * s;
    }
    energy += er * re - ei * im;
  }
  return energy;
}
