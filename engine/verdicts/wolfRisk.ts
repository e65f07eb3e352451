import { sayCount, sayFrequency, sayList } from "./say.ts";
import type { Verdict } from "./verdict.ts";

export interface NoteCoupling {
  readonly string: number;
  readonly fret: number;
  readonly note: string;
  /** As defined for the note board: 1 is the threshold of strong coupling. */
  readonly wolfIndex: number;
  /** Hz of the body mode to blame and its name; null if none is named. */
  readonly mode: { readonly name: string | null; readonly frequency: number } | null;
}

const threshold = 1;
const near = 0.7;

/**
 * Notes whose string and body couple strongly (index 1 or more: two peaks, a beat, a note that will not settle): watch.
 * Notes between 0.7 and 1 are named as near, without moving the level.
 */
export function wolfRisk(notes: readonly NoteCoupling[]): Verdict {
  const ranked = [...notes].sort((a, b) => b.wolfIndex - a.wolfIndex);
  const wolves = ranked.filter((n) => n.wolfIndex >= threshold);
  const close = ranked.filter((n) => n.wolfIndex >= near && n.wolfIndex < threshold);
  const worst = ranked[0];
  const blamed = [...new Set(wolves.flatMap((n) => (n.mode === null ? [] : [sayMode(n.mode)])))];
  const named = sayList(wolves.map(sayPlace), 4);
  return {
    id: "wolf-risk",
    title: "Wolf notes",
    level: wolves.length > 0 ? "watch" : "good",
    computed:
      worst === undefined
        ? "no note was foreseen"
        : `${sayCount(wolves.length, "note")} of ${notes.length} at or over the threshold${close.length > 0 ? `, ${close.length} more near it` : ""}; the highest index is ${worst.wolfIndex.toFixed(1)} at ${sayPlace(worst)}`,
    limit: `watch from ${threshold.toFixed(1)}: there a string's partial and a body mode split into two`,
    source:
      "C. E. Gough, Acustica 49 (1981), the threshold derived anew from the two-mode problem: GOUGH-1981 in docs/sources.json",
    why:
      wolves.length > 0
        ? `${named} may beat or stutter${blamed.length > 0 ? `, because the string trades its energy with ${sayList(blamed, 3)}` : ""}`
        : "no string trades energy with a body mode faster than both lose it",
    whatWouldChange:
      "move the mode between two notes (mass at the bridge, brace height), a heavier or lossier plate there, or a lighter string on that note",
    sureness:
      "a wolf note is foreseen within one fret in 7 cases of 10; the index moves with Q, known within a factor 1.5",
    figures: { wolfNotes: wolves.length, nearNotes: close.length, worstIndex: worst?.wolfIndex ?? 0 },
    canHurt: false,
  };
}

function sayPlace(note: NoteCoupling): string {
  return `${note.note} (string ${note.string}, ${note.fret === 0 ? "open" : `fret ${note.fret}`})`;
}

function sayMode(mode: { readonly name: string | null; readonly frequency: number }): string {
  return mode.name === null
    ? `the body mode at ${sayFrequency(mode.frequency)}`
    : `the ${mode.name} mode at ${sayFrequency(mode.frequency)}`;
}
