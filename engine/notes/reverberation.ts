import { brent, invariant } from "#engine/numerics";
import type { Tones } from "./pluckedPressure.ts";

/** Terms smaller than this share of the whole energy at t = 0 are left out: 40 dB below the last level read. */
const negligible = 1e-7;
const samples = 48;

/**
 * T60 of a sum of damped tones, s: slope of the backward-integrated square E(t) = integral from t to infinity of p^2
 * between -5 and -25 dB, as a least-squares line on its level at 48 even steps (the reading of ISO 3382, from memory),
 * taken to 60 dB. E is in closed form over pairs of tones. Tones above `highest` rad/s are left out. Null if nothing
 * sounds.
 */
export function reverberation(tones: Tones, highest: number): number | null {
  const terms = energyTerms(tones, highest);
  if (terms === null) return null;
  const whole = energyAt(terms, 0);
  if (!(whole > 0)) return null;
  const level = (t: number) => 10 * Math.log10(Math.max(energyAt(terms, t) / whole, 1e-30));
  let far = 0.1;
  for (let i = 0; level(far) > -25; i++) {
    if (i > 40) return null;
    far *= 2;
  }
  const from = crossing(level, -5, far);
  const to = crossing(level, -25, far);
  let st = 0;
  let sl = 0;
  let stt = 0;
  let stl = 0;
  const levels = levelsBetween(terms, whole, from, to);
  for (let i = 0; i < samples; i++) {
    const t = i / (samples - 1);
    st += t;
    sl += levels[i]!;
    stt += t * t;
    stl += t * levels[i]!;
  }
  const slope = (samples * stl - st * sl) / (samples * stt - st * st) / (to - from);
  return -60 / slope;
}

function crossing(level: (t: number) => number, at: number, far: number): number {
  const found = brent((t) => level(t) - at, 0, far, 1e-6 * far);
  invariant(found.ok, () => `the energy does not fall through ${at} dB before ${far} s`);
  return found.value;
}

/** E(t) = Re sum (re + i im) exp((i omega - rate) t). */
interface EnergyTerms {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly rate: Float64Array;
  readonly omega: Float64Array;
}

function energyTerms(tones: Tones, highest: number): EnergyTerms | null {
  const kept: number[] = [];
  let whole = 0;
  for (let r = 0; r < tones.count; r++) {
    if (tones.omega[r]! > highest) continue;
    kept.push(r);
    whole += (tones.re[r]! ** 2 + tones.im[r]! ** 2) / (4 * tones.decay[r]!);
  }
  if (whole === 0) return null;
  const least = (negligible * whole) ** 2;
  const list: number[] = [];
  const add = (re: number, im: number, rate: number, omega: number) => {
    const size = rate * rate + omega * omega;
    if ((re * re + im * im) / size < least) return;
    // divide by -z = rate - i omega
    list.push((re * rate - im * omega) / size, (re * omega + im * rate) / size, rate, omega);
  };
  for (let a = 0; a < kept.length; a++) {
    const r = kept[a]!;
    const [ar, ai] = [tones.re[r]!, tones.im[r]!];
    for (let b = 0; b <= a; b++) {
      const s = kept[b]!;
      const half = a === b ? 0.5 : 1;
      const [br, bi] = [half * tones.re[s]!, half * tones.im[s]!];
      const rate = tones.decay[r]! + tones.decay[s]!;
      add(ar * br - ai * bi, ar * bi + ai * br, rate, tones.omega[r]! + tones.omega[s]!);
      add(ar * br + ai * bi, ai * br - ar * bi, rate, tones.omega[r]! - tones.omega[s]!);
    }
  }
  const count = list.length / 4;
  const column = (k: number) => Float64Array.from({ length: count }, (_, i) => list[4 * i + k]!);
  return { re: column(0), im: column(1), rate: column(2), omega: column(3) };
}

function energyAt(terms: EnergyTerms, t: number): number {
  let sum = 0;
  for (let i = 0; i < terms.re.length; i++) {
    const fall = terms.rate[i]! * t;
    if (fall > 40) continue;
    const turn = terms.omega[i]! * t;
    sum += Math.exp(-fall) * (terms.re[i]! * Math.cos(turn) - terms.im[i]! * Math.sin(turn));
  }
  return sum;
}

/** Levels (dB re the whole) at `samples` even steps from `from` to `to`, by turning each term one step at a time. */
function levelsBetween(terms: EnergyTerms, whole: number, from: number, to: number): Float64Array {
  const energy = new Float64Array(samples);
  const step = (to - from) / (samples - 1);
  for (let i = 0; i < terms.re.length; i++) {
    const [rate, omega] = [terms.rate[i]!, terms.omega[i]!];
    const start = Math.exp(-rate * from);
    if (start < 1e-14) continue;
    const [c0, s0] = [start * Math.cos(omega * from), start * Math.sin(omega * from)];
    let re = terms.re[i]! * c0 - terms.im[i]! * s0;
    let im = terms.re[i]! * s0 + terms.im[i]! * c0;
    const fall = Math.exp(-rate * step);
    const [c, s] = [fall * Math.cos(omega * step), fall * Math.sin(omega * step)];
    for (let k = 0; k < samples; k++) {
      energy[k] = energy[k]! + re;
      [re, im] = [re * c - im * s, re * s + im * c];
    }
  }
  return energy.map((e) => 10 * Math.log10(Math.max(e / whole, 1e-30)));
}
