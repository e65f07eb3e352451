import { noteFrequency } from "#engine/strings";
import type { Json } from "../bench/index.ts";
import type { BriefTuning } from "./briefAnswers.ts";
import { changedLength, isList, isRecord, mapped } from "./mapped.ts";

/** Inches: steps of the gauges that strings are made in. */
const gaugeStep = 0.0005;

/**
 * The example's set for other notes on another length: every diameter times old pitch and length over the new, so that each string pulls as
 * it did (tension goes with the square of diameter, length and pitch).
 */
export function pulledStrings(set: Json, tuning: BriefTuning, lengthened: number): Json {
  if (!isList(set) || set.length !== tuning.notes.length)
    throw new Error("the example's set has another number of strings");
  return set.map((own, i) => {
    const note = tuning.notes[i]!;
    if (!isRecord(own) || typeof own["note"] !== "string")
      throw new Error(`string ${i + 1} of the example has no note`);
    const factor = pitch(own["note"]) / pitch(note) / lengthened;
    if (factor === 1) return own;
    const construction = mapped(own["construction"]!, (leaf, path) =>
      /(^|\.)(diameter|core)$/.test(path) ? changedLength(leaf, (d) => factor * d, gaugeStep) : leaf,
    );
    return { ...own, note, construction };
  });
}

/** By how many semitones the lowest string of the example gets heavier: let down, or shortened; 0: it does not. */
export function letDown(set: Json, tuning: BriefTuning, lengthened: number): number {
  const last = isList(set) ? set.at(-1) : undefined;
  if (!isRecord(last)) throw new Error("the example has no strings");
  return Math.max(0, 12 * Math.log2(pitch(String(last["note"])) / pitch(tuning.notes.at(-1)!) / lengthened));
}

function pitch(note: string): number {
  const found = noteFrequency(note);
  if (!found.ok) throw new Error(found.detail);
  return found.value;
}
