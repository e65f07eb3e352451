import { brent, invariant } from "#engine/numerics";
import type { Tones } from "./pluckedPressure.ts";

/** Terms smaller than these shares of the whole energy are left out: before the -5 dB point, and at the -25 dB point. */
const negligibleEarly = 3e-5;
const negligibleLate = 3e-7;
const samples = 64;

/**
 * T60 of a sum of damped tones, s: slope of the backward-integrated square E(t) = integral from t to infinity of p^2
 * between -5 and -25 dB, as a least-squares line on its level at the middles of 64 even steps (the reading of ISO 3382, from memory),
 * taken to 60 dB. E is in closed form over pairs of tones. Tones above `highest` rad/s are left out. Null if nothing
 * sounds.
 */
export function reverberation(tones: Tones, highest: number): number | null {
  const heard = audible(tones, highest);
  if (heard === null) return null;
  // first reading: each tone's own energy, without beats
  let [early, late] = [0.5 * (heard.crossing(-5) ?? 0), 0.8 * (heard.crossing(-25) ?? 0)];
  let terms = energyTerms(heard, early, late);
  const read = () => (t: number) => 10 * Math.log10(Math.max(energyAt(terms, t) / terms.whole, 1e-30));
  let from = crossing(read(), -5);
  let to = crossing(read(), -25);
  if (!(terms.whole > 0)) return null;
  if (from === null || to === null || from < early || to < late) {
    // beats bring the points forward: keep every pair that counts from the start
    [early, late] = [0, 0];
    terms = energyTerms(heard, early, late);
    from = crossing(read(), -5);
    to = crossing(read(), -25);
    if (from === null || to === null) return null;
  }
  let st = 0;
  let sl = 0;
  let stt = 0;
  let stl = 0;
  const levels = levelsBetween(terms, from, to);
  for (let i = 0; i < samples; i++) {
    const t = (i + 0.5) / samples;
    st += t;
    sl += levels[i]!;
    stt += t * t;
    stl += t * levels[i]!;
  }
  const slope = (samples * stl - st * sl) / (samples * stt - st * st) / (to - from);
  return -60 / slope;
}

/** Time at which a falling level passes `at` dB; null where it does not start above it (terms that count were left out). */
function crossing(level: (t: number) => number, at: number): number | null {
  if (!(level(0) > at)) return null;
  let [near, far] = [0, 0.1];
  while (level(far) > at) [near, far] = [far, 2 * far];
  const found = brent((t) => level(t) - at, near, far, 1e-5 * far);
  invariant(found.ok, () => `the energy does not fall through ${at} dB between ${near} and ${far} s`);
  return found.value;
}

/** E(t) = Re sum (re + i im) exp((i omega - rate) t), and E(0) with every pair in it. */
interface EnergyTerms {
  readonly whole: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly rate: Float64Array;
  readonly omega: Float64Array;
}

/** The tones that sound below `highest`, and when their own energies together have fallen by so much. */
interface AudibleTones {
  readonly tones: Tones;
  readonly kept: readonly number[];
  readonly crossing: (level: number) => number | null;
}

function audible(tones: Tones, highest: number): AudibleTones | null {
  const kept: number[] = [];
  const own: number[] = [];
  let whole = 0;
  for (let r = 0; r < tones.count; r++) {
    const energy = (tones.re[r]! ** 2 + tones.im[r]! ** 2) / (4 * tones.decay[r]!);
    if (tones.omega[r]! > highest || energy === 0) continue;
    kept.push(r);
    own.push(energy);
    whole += energy;
  }
  if (whole === 0) return null;
  const energy = (t: number) =>
    own.reduce((sum, e, i) => sum + e * Math.exp(-2 * tones.decay[kept[i]!]! * t), 0);
  const level = (t: number) => 10 * Math.log10(Math.max(1e-30, energy(t) / whole));
  return { tones, kept, crossing: (at) => crossing(level, at) };
}

/** All pairs of tones that matter from the time `early` on near -5 dB, or from `late` on near -25 dB. */
function energyTerms({ tones, kept }: AudibleTones, early: number, late: number): EnergyTerms {
  const earlyFall = kept.map((r) => Math.exp(-tones.decay[r]! * early));
  const lateFall = kept.map((r) => Math.exp(-tones.decay[r]! * late));
  const scale = kept.reduce(
    (sum, r) => sum + (tones.re[r]! ** 2 + tones.im[r]! ** 2) / (4 * tones.decay[r]!),
    0,
  );
  const [leastEarly, leastLate] = [(negligibleEarly * scale) ** 2, (negligibleLate * scale) ** 2];
  const list: number[] = [];
  let whole = 0;
  const add = (re: number, im: number, rate: number, omega: number, e: number, l: number) => {
    const size = rate * rate + omega * omega;
    // over -z = rate - i omega
    const termRe = (re * rate - im * omega) / size;
    whole += termRe;
    const square = (re * re + im * im) / size;
    if (square * e * e < leastEarly && square * l * l < leastLate) return;
    list.push(termRe, (re * omega + im * rate) / size, rate, omega);
  };
  for (let a = 0; a < kept.length; a++) {
    const r = kept[a]!;
    const [ar, ai] = [tones.re[r]!, tones.im[r]!];
    for (let b = 0; b <= a; b++) {
      const s = kept[b]!;
      const half = a === b ? 0.5 : 1;
      const [br, bi] = [half * tones.re[s]!, half * tones.im[s]!];
      const rate = tones.decay[r]! + tones.decay[s]!;
      const [e, l] = [earlyFall[a]! * earlyFall[b]!, lateFall[a]! * lateFall[b]!];
      add(ar * br - ai * bi, ar * bi + ai * br, rate, tones.omega[r]! + tones.omega[s]!, e, l);
      add(ar * br + ai * bi, ai * br - ar * bi, rate, tones.omega[r]! - tones.omega[s]!, e, l);
    }
  }
  const count = list.length / 4;
  const column = (k: number) => Float64Array.from({ length: count }, (_, i) => list[4 * i + k]!);
  return { whole, re: column(0), im: column(1), rate: column(2), omega: column(3) };
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

/** Levels (dB re E(0)) at the middles of `samples` even steps from `from` to `to`, by turning each term one step at a time. */
function levelsBetween(terms: EnergyTerms, from: number, to: number): Float64Array {
  const energy = new Float64Array(samples);
  const step = (to - from) / samples;
  const first = from + step / 2;
  for (let i = 0; i < terms.re.length; i++) {
    const [rate, omega] = [terms.rate[i]!, terms.omega[i]!];
    const start = Math.exp(-rate * first);
    if (start < 1e-14) continue;
    const [c0, s0] = [start * Math.cos(omega * first), start * Math.sin(omega * first)];
    let re = terms.re[i]! * c0 - terms.im[i]! * s0;
    let im = terms.re[i]! * s0 + terms.im[i]! * c0;
    const fall = Math.exp(-rate * step);
    const [c, s] = [fall * Math.cos(omega * step), fall * Math.sin(omega * step)];
    for (let k = 0; k < samples; k++) {
      energy[k] = energy[k]! + re;
      [re, im] = [re * c - im * s, re * s + im * c];
    }
  }
  return energy.map((e) => 10 * Math.log10(Math.max(e / terms.whole, 1e-30)));
}
