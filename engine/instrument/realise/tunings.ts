import { noteFrequency } from "#engine/strings";
import type { BuildTuning } from "../buildSetup.ts";
import { type Issue, stop } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import type { Ledger } from "./reading.ts";

/** Frequency of an open note, Hz; null with an issue if the text is no note. */
export function openFrequency(note: string, path: string, a4: number, issues: Issue[]): number | null {
  const frequency = noteFrequency(note, a4);
  if (frequency.ok) return frequency.value;
  issues.push(
    stop(frequency.reason, path, `${frequency.detail}.`, {
      found: JSON.stringify(note),
      allowed: "a letter, # or b, and an octave",
      example: '"E4"',
    }),
  );
  return null;
}

/** The set's own notes, then the other tunings; one with a wrong number of notes or with what is no note is left out, with an issue. */
export function realiseTunings({ strings }: InstrumentDocument, a4: number, ledger: Ledger): BuildTuning[] {
  const own = strings.set.map(({ note }) => note);
  const main: BuildTuning = {
    documentPath: "strings.set",
    name: strings.tuningName ?? own.toReversed().join(" "),
    notes: own,
    // A note that is none has its issue with its string.
    frequencies: own.map((note) => openFrequency(note, "", a4, []) ?? Number.NaN),
  };
  const others = (strings.tunings ?? []).flatMap(({ name, notes }, i): BuildTuning[] => {
    const documentPath = `strings.tunings[${i}]`;
    if (notes.length !== own.length) {
      ledger.issues.push(
        stop(
          "tuning-notes",
          `${documentPath}.notes`,
          `The tuning "${name}" has ${notes.length} notes for ${own.length} strings.`,
          {
            found: `${notes.length} notes`,
            allowed: `${own.length} notes, string 1 (the highest) first`,
            example: JSON.stringify(own),
          },
        ),
      );
      return [];
    }
    const frequencies = notes.map((note, k) =>
      openFrequency(note, `${documentPath}.notes[${k}]`, a4, ledger.issues),
    );
    return frequencies.every((f) => f !== null) ? [{ documentPath, name, notes, frequencies }] : [];
  });
  return [main, ...others];
}
