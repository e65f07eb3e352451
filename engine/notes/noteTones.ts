import { done, failed, type Outcome } from "#engine/numerics";
import { nearestNote, noteName } from "#engine/strings";
import type { BoardString } from "./boardString.ts";
import { type BridgeModes, bridgeModesFault } from "./bridgeModes.ts";
import { coupledToEnds, farEndFault, pluckedAtBothEnds } from "./coupledAtBothEnds.ts";
import { coupledToPoles } from "./coupledString.ts";
import { bodyPoles, soundTable } from "./crownSystem.ts";
import { endsBody, type FarEnd } from "./endsSystem.ts";
import { meanSquare } from "./meanSquare.ts";
import { pluckedPressure, type Tones } from "./pluckedPressure.ts";
import { pluckFromCrown, stoppedString } from "./readyNote.ts";

/** A steady force let go. */
export interface NotePluck {
  /** N. */
  readonly force: number;
  /** From the crown along the string, m; null: 120 mm, or a quarter of the sounding length if that is less. */
  readonly fromCrown: number | null;
  /** Direction of the force, rad: 0 along the top's normal, pi/2 along the top across the string. */
  readonly angle: number;
}

/** The pluck by which the note board is told. */
export const boardPluck: NotePluck = { force: 1, fromCrown: null, angle: Math.PI / 4 };

/**
 * One plucked note as it sounds at 1 m, of plain data: p(t) = Re sum_r (re + i im) exp((i omega - decay) t), Pa, from t = 0.
 * Tones that are not heard are left out.
 */
export interface NoteTones extends Tones {
  /** By tone: partial of the string that it grew from, 0 if from the body. */
  readonly partial: Int32Array;
  readonly string: number;
  readonly fret: number;
  readonly note: string;
  /** Nominal, tempered, Hz. */
  readonly frequency: number;
  readonly pluck: { readonly force: number; readonly fromCrown: number; readonly angle: number };
  /** Hz: what would sound above this is not foreseen, and left out. */
  readonly foreseenTo: number;
  /** True: nut or fret moves with the body, as in the exact note board. False: taken as rigid. */
  readonly farEndYields: boolean;
  /** dB re 20 uPa: mean square over the first 0.3 s, as on the note board. */
  readonly levelDb: number;
}

/** What a note is played on: one string's view of the body, and to where it is foreseen. */
export interface PlayedOn {
  readonly body: BridgeModes;
  /** null: nut and frets do not yield. */
  readonly far: FarEnd | null;
  /** Hz: highest frequency for which the body's pressure is foreseen, and for which its motion is. */
  readonly validToHz: number;
  readonly decayValidToHz: number;
  /** Frequency of A4 for the name of the note, Hz. */
  readonly a4: number;
}

/** s: over which the level is taken. */
const listening = 0.3;
const referencePressure = 20e-6;
/** Tones with less than this share of the energy of the strongest are left out: together they are 80 dB under the note. */
const unheard = 1e-11;

/**
 * The tones of one string at one fret. Fails with "bad-pluck", "not-foreseen" (the fundamental lies above `validToHz`, or the body
 * radiates nothing), "bad-body" or "not-converged".
 */
export function noteTones(
  owner: BoardString,
  fret: number,
  on: PlayedOn,
  pluck: NotePluck = boardPluck,
): Outcome<NoteTones> {
  const { body, far, validToHz } = on;
  if (!Number.isInteger(fret) || fret < 0 || fret >= owner.fretDistance.length)
    return failed("bad-pluck", `string ${owner.string} has no fret ${fret}`);
  const s = stoppedString(owner, fret);
  const fromCrown = pluck.fromCrown ?? pluckFromCrown(s.length);
  if (!(fromCrown > 0 && fromCrown < s.length))
    return failed("bad-pluck", `a pluck ${fromCrown} m from the crown is not on a string of ${s.length} m`);
  if (!(Number.isFinite(pluck.force) && pluck.force > 0 && Number.isFinite(pluck.angle)))
    return failed("bad-pluck", `a force of ${pluck.force} N at ${pluck.angle} rad is no pluck`);
  const frequency = (owner.frequency * owner.scaleLength) / s.length;
  const named = noteName(nearestNote(frequency, on.a4));
  if (frequency > validToHz)
    return failed(
      "not-foreseen",
      `the fundamental lies at ${Math.round(frequency)} Hz, above ${Math.round(validToHz)} Hz, to where the body's sound is foreseen`,
    );
  const fault = bridgeModesFault(body) ?? (far === null ? null : farEndFault(body, far));
  if (fault !== null) return failed("bad-body", fault);
  const highest = Math.max(validToHz, on.decayValidToHz);
  const force = {
    fromCrown,
    normal: pluck.force * Math.cos(pluck.angle),
    across: pluck.force * Math.sin(pluck.angle),
  };
  const table = soundTable(body);
  let all: Tones;
  let partial: Int32Array;
  if (far === null) {
    const solved = coupledToPoles(s, bodyPoles(body, table), highest);
    if (!solved.ok) return solved;
    partial = solved.value.partial;
    all = pluckedPressure(solved.value, s, force);
  } else {
    const solved = coupledToEnds(s, endsBody(body, table), far, highest);
    if (!solved.ok) return solved;
    partial = solved.value.partial;
    all = pluckedAtBothEnds(solved.value, s, force);
  }
  const tones = heardTones(all, partial, 2 * Math.PI * validToHz);
  if (tones.count === 0) return failed("not-foreseen", "the body radiates nothing of this note");
  const square = meanSquare(tones, listening, new Uint8Array(tones.count).fill(1)).plain;
  return done({
    ...tones,
    string: owner.string,
    fret,
    note: named,
    frequency,
    pluck: { force: pluck.force, fromCrown, angle: pluck.angle },
    foreseenTo: validToHz,
    farEndYields: far !== null,
    levelDb: 10 * Math.log10(square / referencePressure ** 2),
  });
}

/** What sounds up to `highest` (rad/s) and is heard. */
function heardTones(
  { count, omega, decay, re, im }: Tones,
  partial: Int32Array,
  highest: number,
): Tones & Pick<NoteTones, "partial"> {
  const energy = Float64Array.from({ length: count }, (_, r) =>
    omega[r]! > highest ? 0 : (re[r]! ** 2 + im[r]! ** 2) / (decay[r]! + 1 / listening),
  );
  const least = unheard * energy.reduce((most, e) => Math.max(most, e), 0);
  const kept = Array.from(energy.keys()).filter((r) => energy[r]! > least);
  const take = (from: Float64Array) => Float64Array.from(kept, (r) => from[r]!);
  return {
    count: kept.length,
    omega: take(omega),
    decay: take(decay),
    re: take(re),
    im: take(im),
    partial: Int32Array.from(kept, (r) => partial[r]!),
  };
}
