import { brent, invariant } from "#engine/numerics";
import { type EnergyForm, energiesFrom, energyAt, energyForm, wholeEnergy } from "./energyForm.ts";
import type { Tones } from "./pluckedPressure.ts";

/**
 * How the decay is read off: number of even steps, share of the energy below which a tone is left out, and of what time its
 * ends are sure; null: the ends are read between even steps of the whole fall, about `samples` of them.
 */
export interface DecayReading {
  readonly samples: number;
  readonly negligible: number;
  readonly sure: number | null;
}

/** Errs by less than 1e-5 of the decay. */
export const carefulReading: DecayReading = { samples: 64, negligible: 1e-10, sure: 1e-6 };

/** Errs by less than 1 %. */
export const quickReading: DecayReading = { samples: 24, negligible: 1e-6, sure: null };

/** dB below the whole energy between which the slope is taken. */
const first = -5;
const last = -25;

/**
 * T60 of a sum of damped tones, s: slope of the backward-integrated square E(t) = integral from t to infinity of p^2
 * between -5 and -25 dB, as a least-squares line on its level at the middles of even steps (the reading of ISO 3382, from memory),
 * taken to 60 dB. E is in closed form over pairs of tones. Tones above `highest` rad/s are left out. Null if nothing
 * sounds.
 */
export function reverberation(
  tones: Tones,
  highest: number,
  reading: DecayReading = carefulReading,
): number | null {
  const heard = audible(tones, highest);
  if (heard === null) return null;
  const whole = wholeEnergy(heard.tones);
  if (!(whole > 0)) return null;
  // first reading: each tone's own energy, without beats
  const guess = ownCrossing(heard, first);
  let form = energyForm(heard.tones, heard.own, 0.5 * guess, reading.negligible);
  if (energyAt(form, form.early) < whole * 10 ** (first / 10))
    // beats bring the points forward: keep every tone that counts from the start
    form = energyForm(heard.tones, heard.own, 0, reading.negligible);
  const { sure, samples } = reading;
  const quick = sure === null ? fallSlope(form, whole, guess, ownCrossing(heard, last), samples) : null;
  if (quick !== null) return -60 / quick;
  const near = sure ?? quickSure;
  const from = crossing(form, whole, first, guess, near);
  const to = crossing(form, whole, last, 4 * from, near);
  return -60 / slope(form, whole, from, to, samples);
}

const quickSure = 1e-3;
/** Steps of a fall at most, in units of those foreseen. */
const mostFall = 4;

/**
 * dB per second of the line through the levels on even steps, straight between them, from where they pass the first to where
 * they pass the last mark; `near` and `far`: about where (s). null where the fall is not of that length, or begins too late.
 */
function fallSlope(
  form: EnergyForm,
  whole: number,
  near: number,
  far: number,
  samples: number,
): number | null {
  const step = (far - near) / samples;
  if (!(step > 0)) return null;
  const chunk = Math.ceil((1.02 * far - form.early) / step) + 1;
  const levels: number[] = [];
  let from = Number.NaN;
  while (levels.length < mostFall * chunk) {
    const energies = energiesFrom(form, form.early + levels.length * step, step, chunk);
    for (let i = 0; i < chunk; i++) {
      const level = levelOf(energies[i]!, whole);
      const k = levels.push(level) - 1;
      if (level > first) continue;
      if (Number.isNaN(from)) {
        if (k === 0) return null;
        from = k - (first - level) / (levels[k - 1]! - level);
      }
      if (level > last) continue;
      const to = k - (last - level) / (levels[k - 1]! - level);
      return to - from < samples / 2 ? null : lineThrough(levels, from, to, samples) / step;
    }
  }
  return null;
}

/** Slope per place of the least-squares line through `samples` values between two places of a list, straight between its members. */
function lineThrough(levels: readonly number[], from: number, to: number, samples: number): number {
  const gap = (to - from) / samples;
  const middle = (samples - 1) / 2;
  let sum = 0;
  for (let i = 0; i < samples; i++) {
    const at = from + (i + 0.5) * gap;
    const k = Math.floor(at);
    sum += (i - middle) * (levels[k]! + (at - k) * (levels[k + 1]! - levels[k]!));
  }
  return (12 * sum) / (samples * (samples * samples - 1)) / gap;
}

/** Time at which the level of E passes `at` dB; E only ever falls. */
function crossing(form: EnergyForm, whole: number, at: number, guess: number, sure: number): number {
  const level = (t: number) => levelOf(energyAt(form, t), whole) - at;
  let near = form.early;
  let far = Math.max(guess, 1.1 * near);
  while (level(far) > 0) [near, far] = [far, 2 * far];
  const found = brent(level, near, far, sure * far);
  invariant(found.ok, () => `the energy does not fall through ${at} dB between ${near} and ${far} s`);
  return found.value;
}

/** dB per second of the line through the levels at the middles of even steps. */
function slope(form: EnergyForm, whole: number, from: number, to: number, samples: number): number {
  let st = 0;
  let sl = 0;
  let stt = 0;
  let stl = 0;
  const step = (to - from) / samples;
  const energies = energiesFrom(form, from + step / 2, step, samples);
  for (let i = 0; i < samples; i++) {
    const t = (i + 0.5) / samples;
    const level = levelOf(energies[i]!, whole);
    st += t;
    sl += level;
    stt += t * t;
    stl += t * level;
  }
  return (samples * stl - st * sl) / (samples * stt - st * st) / (to - from);
}

function levelOf(energy: number, whole: number): number {
  return 10 * Math.log10(Math.max(energy / whole, 1e-30));
}

/** The tones that sound below `highest`, with the energy that each has alone. */
interface AudibleTones {
  readonly tones: Tones;
  readonly own: Float64Array;
}

function audible(tones: Tones, highest: number): AudibleTones | null {
  const n = tones.count;
  const kept = {
    omega: new Float64Array(n),
    decay: new Float64Array(n),
    re: new Float64Array(n),
    im: new Float64Array(n),
  };
  const own = new Float64Array(n);
  let count = 0;
  for (let r = 0; r < n; r++) {
    const energy = (tones.re[r]! ** 2 + tones.im[r]! ** 2) / (4 * tones.decay[r]!);
    if (tones.omega[r]! > highest || energy === 0) continue;
    kept.omega[count] = tones.omega[r]!;
    kept.decay[count] = tones.decay[r]!;
    kept.re[count] = tones.re[r]!;
    kept.im[count] = tones.im[r]!;
    own[count++] = energy;
  }
  return count === 0 ? null : { tones: { count, ...kept }, own };
}

const mostSteps = 40;

/** When the tones' own energies together have fallen by so much, to 1 %. */
function ownCrossing({ tones, own }: AudibleTones, at: number): number {
  let whole = 0;
  for (let r = 0; r < tones.count; r++) whole += own[r]!;
  const wanted = whole * 10 ** (at / 10);
  // the logarithm of what is left is convex: Newton's steps on it come from below
  let t = 0;
  for (let step = 0; step < mostSteps; step++) {
    let left = 0;
    let slope = 0;
    for (let r = 0; r < tones.count; r++) {
      const energy = own[r]! * Math.exp(-2 * tones.decay[r]! * t);
      left += energy;
      slope += 2 * tones.decay[r]! * energy;
    }
    const on = (left / slope) * Math.log(left / wanted);
    t += on;
    if (!(on > 0.01 * t)) break;
  }
  return t;
}
