import { done, type Outcome } from "#engine/numerics";
import { aWeight } from "#engine/signals";
import { type StretchedString, type StringPartials, stringPartials } from "#engine/strings";
import type { PartialRow } from "./board.ts";
import { coupledToEnds, type EndsModes, pluckedAtBothEnds } from "./coupledAtBothEnds.ts";
import { type CoupledModes, coupledToPoles } from "./coupledString.ts";
import type { BodyPoles } from "./crownSystem.ts";
import type { EndsBody, FarEnd } from "./endsSystem.ts";
import { meanSquare } from "./meanSquare.ts";
import { type Pluck, pluckedPressure, type Tones } from "./pluckedPressure.ts";
import { listedPartials, pluckFromCrown, type ReadyNote, readyNote } from "./readyNote.ts";
import { carefulReading, type DecayReading, quickReading, reverberation } from "./reverberation.ts";

/** What one plucked note does at 1 m. Null: outside the range in which the body is known. */
export interface NoteSound {
  /** dB re 20 uPa: mean square over the first 0.3 s, and A-weighted. */
  readonly levelDb: number | null;
  readonly levelDbA: number | null;
  /** s. */
  readonly decay: number | null;
  readonly partials: readonly PartialRow[];
}

/** s: over which the level is taken. */
const listening = 0.3;
const referencePressure = 20e-6;

/**
 * Level, decay and partials of one note. `levelTo` and `decayTo` (Hz): highest frequency for which the body's pressure
 * and its motion are foreseen; above, partials meet `meanMobility` (m/(s N), along the normal). A level needs the fundamental below `levelTo`, a decay below `decayTo`. Fails as
 * `coupledString` does.
 */
export function soundNote(
  s: StretchedString,
  body: BodyPoles,
  levelTo: number,
  decayTo: number,
  meanMobility: number | null = null,
  ready: ReadyNote = readyNote(s, Math.max(levelTo, decayTo), body.cells !== undefined),
): Outcome<NoteSound> {
  const solved = coupledToPoles(s, body, Math.max(levelTo, decayTo), ready.poles);
  if (!solved.ok) return solved;
  const quick = body.cells !== undefined;
  const all = pluckedPressure(solved.value, s, pluckOf(s), ready.blocked);
  const tones = quick ? loudTones(all) : all;
  const reading = quick ? quickReading : carefulReading;
  return done(soundOf(s, ready.partials, solved.value, tones, levelTo, decayTo, meanMobility, reading));
}

/** The same where the far end yields too. */
export function soundAtBothEnds(
  s: StretchedString,
  body: EndsBody,
  far: FarEnd,
  levelTo: number,
  decayTo: number,
  meanMobility: number | null,
): Outcome<NoteSound> {
  const solved = coupledToEnds(s, body, far, Math.max(levelTo, decayTo));
  if (!solved.ok) return solved;
  const tones = pluckedAtBothEnds(solved.value, s, pluckOf(s));
  const own = stringPartials(s, listedPartials);
  return done(soundOf(s, own, solved.value, tones, levelTo, decayTo, meanMobility, carefulReading));
}

function pluckOf(s: StretchedString): Pluck {
  return { fromCrown: pluckFromCrown(s.length), normal: Math.SQRT1_2, across: Math.SQRT1_2 };
}

function soundOf(
  s: StretchedString,
  own: StringPartials,
  modes: CoupledModes | EndsModes,
  tones: Tones,
  levelTo: number,
  decayTo: number,
  meanMobility: number | null,
  reading: DecayReading,
): NoteSound {
  const fundamental = own.omega[0]! / (2 * Math.PI);
  const highest = 2 * Math.PI * levelTo;
  const weight = tones.omega.map((w) => (w <= highest ? aWeight(w / (2 * Math.PI)) : 0));
  const square = fundamental > levelTo ? null : meanSquare(tones, listening, weight);
  return {
    levelDb: square && level(square.plain),
    levelDbA: square && level(square.weighted),
    decay: fundamental > decayTo ? null : reverberation(tones, 2 * Math.PI * decayTo, reading),
    partials: partialRows(s, own, modes, decayTo, meanMobility),
  };
}

/** Tones with less than this share of the energy of the strongest are left out in the quick way. */
const unheard = 4e-5;

function loudTones(tones: Tones): Tones {
  const { count, omega, decay, re, im } = tones;
  const energy = new Float64Array(count);
  let most = 0;
  for (let r = 0; r < count; r++) {
    energy[r] = (re[r]! * re[r]! + im[r]! * im[r]!) / (decay[r]! + 1 / listening);
    most = Math.max(most, energy[r]!);
  }
  const out = {
    omega: new Float64Array(count),
    decay: new Float64Array(count),
    re: new Float64Array(count),
    im: new Float64Array(count),
  };
  let kept = 0;
  for (let r = 0; r < count; r++) {
    if (!(energy[r]! > unheard * most)) continue;
    out.omega[kept] = omega[r]!;
    out.decay[kept] = decay[r]!;
    out.re[kept] = re[r]!;
    out.im[kept++] = im[r]!;
  }
  return {
    count: kept,
    omega: out.omega.subarray(0, kept),
    decay: out.decay.subarray(0, kept),
    re: out.re.subarray(0, kept),
    im: out.im.subarray(0, kept),
  };
}

/** dB; null if nothing sounds. */
function level(square: number): number | null {
  return square > 0 ? 10 * Math.log10(square / referencePressure ** 2) : null;
}

/**
 * Both polarisations of the first partials; above the solved range the string's own frequency, no decay across, and along the
 * normal that on the mean mobility G: the rate of the amplitude is eta w/2 + w^2 m G/(n pi)^2, m the string's mass, which is 2 f Z G for
 * an ideal string. Source: CLOSED-FORM to first order in Z G.
 */
function partialRows(
  s: StretchedString,
  { omega: own, lossFactor }: StringPartials,
  modes: CoupledModes | EndsModes,
  decayTo: number,
  meanMobility: number | null,
): PartialRow[] {
  const mass = s.linearDensity * s.length;
  // mode with the most motion along the normal, and the other, by partial
  const modeOf = new Int32Array(2 * listedPartials).fill(-1);
  const share = new Float64Array(2 * listedPartials);
  for (let r = 0; r < modes.count; r++) {
    const n = modes.partial[r]!;
    if (n === 0 || n > listedPartials) continue;
    const m = 4 * r;
    const { motion } = modes;
    const along = motion[m]! ** 2 + motion[m + 1]! ** 2 - motion[m + 2]! ** 2 - motion[m + 3]! ** 2;
    const k = 2 * (n - 1);
    const later = modeOf[k]! >= 0 && along <= share[k]!;
    if (modeOf[k]! >= 0 && !later) {
      modeOf[k + 1] = modeOf[k]!;
      share[k + 1] = share[k]!;
    }
    modeOf[later ? k + 1 : k] = r;
    share[later ? k + 1 : k] = along;
  }
  const rows: PartialRow[] = [];
  for (let n = 1; n <= listedPartials; n++) {
    for (let d = 0; d < 2; d++) {
      const r = modeOf[2 * (n - 1) + d]!;
      const polarisation = d === 0 ? "normal" : "across";
      const omega = r < 0 ? own[n - 1]! : modes.omega[r]!;
      const frequencyHz = omega / (2 * Math.PI);
      if (frequencyHz > decayTo && d === 0 && meanMobility !== null) {
        const rate = 0.5 * lossFactor[n - 1]! * omega + mass * meanMobility * (omega / (n * Math.PI)) ** 2;
        rows.push({ n, polarisation, frequencyHz, t60S: Math.log(1000) / rate, statistical: true });
        continue;
      }
      const t60S = r < 0 || frequencyHz > decayTo ? null : Math.log(1000) / modes.decay[r]!;
      rows.push({ n, polarisation, frequencyHz, t60S });
    }
  }
  return rows;
}
