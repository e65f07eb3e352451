import { done, type Outcome } from "#engine/numerics";
import { aWeight } from "#engine/signals";
import { type StretchedString, stringPartials } from "#engine/strings";
import type { PartialRow } from "./board.ts";
import { type CoupledModes, coupledToPoles } from "./coupledString.ts";
import type { BodyPoles } from "./crownSystem.ts";
import { meanSquare } from "./meanSquare.ts";
import { pluckedPressure } from "./pluckedPressure.ts";
import { reverberation } from "./reverberation.ts";

/** What one plucked note does at 1 m. Null: outside the range in which the body is known. */
export interface NoteSound {
  /** dB re 20 uPa: mean square over the first 0.3 s, and A-weighted. */
  readonly levelDb: number | null;
  readonly levelDbA: number | null;
  /** s. */
  readonly decay: number | null;
  readonly partials: readonly PartialRow[];
}

/** The pluck of the definitions: 1 N let go, 120 mm from the crown or a quarter of the length, 45 degrees. */
const pluckDistance = 0.12;
const listening = 0.3;
const referencePressure = 20e-6;
const listedPartials = 10;

export function pluckFromCrown(length: number): number {
  return Math.min(pluckDistance, length / 4);
}

/**
 * Level, decay and partials of one note. `levelTo` and `decayTo` (Hz): highest frequency for which the body's pressure
 * and its motion are foreseen. A level needs the fundamental below `levelTo`, a decay below `decayTo`. Fails as
 * `coupledString` does.
 */
export function soundNote(
  s: StretchedString,
  body: BodyPoles,
  levelTo: number,
  decayTo: number,
): Outcome<NoteSound> {
  const solved = coupledToPoles(s, body, Math.max(levelTo, decayTo));
  if (!solved.ok) return solved;
  const modes = solved.value;
  const half = Math.SQRT1_2;
  const tones = pluckedPressure(modes, s, {
    fromCrown: pluckFromCrown(s.length),
    normal: half,
    across: half,
  });
  const fundamental = stringPartials(s, 1).omega[0]! / (2 * Math.PI);
  const weight = modes.omega.map((w) => (w <= 2 * Math.PI * levelTo ? aWeight(w / (2 * Math.PI)) : 0));
  const square = fundamental > levelTo ? null : meanSquare(tones, listening, weight);
  return done({
    levelDb: square && level(square.plain),
    levelDbA: square && level(square.weighted),
    decay: fundamental > decayTo ? null : reverberation(tones, 2 * Math.PI * decayTo),
    partials: partialRows(s, modes, decayTo),
  });
}

/** dB; null if nothing sounds. */
function level(square: number): number | null {
  return square > 0 ? 10 * Math.log10(square / referencePressure ** 2) : null;
}

/** Both polarisations of the first partials; above the solved range the string's own frequency and no decay. */
function partialRows(s: StretchedString, modes: CoupledModes, decayTo: number): PartialRow[] {
  const own = stringPartials(s, listedPartials);
  const rows: PartialRow[] = [];
  for (let n = 1; n <= listedPartials; n++) {
    const pair: { share: number; frequencyHz: number; t60S: number | null }[] = [];
    for (let r = 0; r < modes.count; r++) {
      if (modes.partial[r] !== n) continue;
      const m = modes.motion.subarray(4 * r, 4 * r + 4);
      const frequencyHz = modes.omega[r]! / (2 * Math.PI);
      pair.push({
        share: m[0]! ** 2 + m[1]! ** 2 - m[2]! ** 2 - m[3]! ** 2,
        frequencyHz,
        t60S: frequencyHz <= decayTo ? Math.log(1000) / modes.decay[r]! : null,
      });
    }
    while (pair.length < 2)
      pair.push({ share: 0, frequencyHz: own.omega[n - 1]! / (2 * Math.PI), t60S: null });
    pair.sort((a, b) => b.share - a.share);
    for (const [k, polarisation] of (["normal", "across"] as const).entries())
      rows.push({ n, polarisation, frequencyHz: pair[k]!.frequencyHz, t60S: pair[k]!.t60S });
  }
  return rows;
}
