import { brent, invariant } from "#engine/numerics";
import { type EnergyForm, energiesFrom, energyAt, energyForm, wholeEnergy } from "./energyForm.ts";
import type { Tones } from "./pluckedPressure.ts";

/** How the decay is read off: number of even steps, share of the energy below which a tone is left out, and of what time its ends are sure. */
export interface DecayReading {
  readonly samples: number;
  readonly negligible: number;
  readonly sure: number;
}

/** Errs by less than 1e-5 of the decay. */
export const carefulReading: DecayReading = { samples: 64, negligible: 1e-10, sure: 1e-6 };

/** Errs by less than 1 %. */
export const quickReading: DecayReading = { samples: 32, negligible: 1e-6, sure: 1e-3 };

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
  const from = crossing(form, whole, first, guess, reading.sure);
  const to = crossing(form, whole, last, 4 * from, reading.sure);
  return -60 / slope(form, whole, from, to, reading.samples);
}

/** Time at which the level of E passes `at` dB; E only ever falls. */
function crossing(form: EnergyForm, whole: number, at: number, guess: number, sure: number): number {
  const level = (t: number) => 10 * Math.log10(Math.max(energyAt(form, t) / whole, 1e-30)) - at;
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
    const level = 10 * Math.log10(Math.max(energies[i]! / whole, 1e-30));
    st += t;
    sl += level;
    stt += t * t;
    stl += t * level;
  }
  return (samples * stl - st * sl) / (samples * stt - st * st) / (to - from);
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

/** When the tones' own energies together have fallen by so much, to 1 %. */
function ownCrossing({ tones, own }: AudibleTones, at: number): number {
  let whole = 0;
  for (let r = 0; r < tones.count; r++) whole += own[r]!;
  const wanted = whole * 10 ** (at / 10);
  const left = (t: number) => {
    let sum = 0;
    for (let r = 0; r < tones.count; r++) sum += own[r]! * Math.exp(-2 * tones.decay[r]! * t);
    return sum;
  };
  let near = 0;
  let far = 0.1;
  while (left(far) > wanted) [near, far] = [far, 2 * far];
  while (far - near > 0.01 * far) {
    const middle = 0.5 * (near + far);
    if (left(middle) > wanted) near = middle;
    else far = middle;
  }
  return far;
}
