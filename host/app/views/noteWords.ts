import type { ModeView, RangesView, VoiceView } from "#engine/drawings";
import { deadFrom, isDead, isWolf, type NoteRow, wolfFrom } from "#engine/notes";
import type { NoteFigure } from "./viewTypes.ts";

type NamedMode = Pick<ModeView, "frequencyHz" | "name">;
type Range = RangesView["notes"][number] | null;

/** A note's figures in words, each with its range: what is read beside the board and what a screen reader says. */
export interface NoteWords {
  /** "F2" */
  readonly note: string;
  /** "string 6, fret 3" */
  readonly place: string;
  readonly pitch: string;
  readonly level: string;
  readonly decay: string;
  readonly wolf: string;
  readonly dead: string;
  /** The body mode that the string feels most; null: none is told. */
  readonly blame: string | null;
  /** Why something is not foreseen; null: all is. */
  readonly reason: string | null;
}

/** The sampled range of a note. It belongs to the full voice: under the hand a note keeps the model's own. */
export function rangeOf(view: VoiceView, row: NoteRow, live: boolean): Range {
  return live ? null : (view.ranges?.notes[view.noteBoard.indexOf(row)] ?? null);
}

const notForeseen = "not foreseen";

export function noteWords(row: NoteRow, range: Range, modes: readonly NamedMode[]): NoteWords {
  return {
    note: row.note,
    place: `string ${row.string}, ${row.fret === 0 ? "open" : `fret ${row.fret}`}`,
    pitch: `${row.frequencyHz.toFixed(1)} Hz`,
    level: sayLevel(row, range),
    decay: sayDecay(row, range),
    wolf: sayIndex(row.wolfIndex, isWolf(row), wolfFrom, "a wolf", range?.wolfIndex ?? null),
    dead: sayIndex(row.deadIndex, isDead(row), deadFrom, "dead", null),
    blame: sayBlame(row, modes),
    reason: row.foreseen ? null : row.reason,
  };
}

/** All of it in one breath. */
export function spokenNote(words: NoteWords, figure: NoteFigure): string {
  const figures: Readonly<Record<NoteFigure, string>> = {
    level: `level ${words.level}`,
    decay: `decay ${words.decay}`,
    wolf: `wolf index ${words.wolf}`,
    dead: `dead index ${words.dead}`,
  };
  // the chosen figure is said first
  const order: readonly NoteFigure[] = ["level", "decay", "wolf", "dead"];
  const said = [figure, ...order.filter((f) => f !== figure)].map((f) => figures[f]);
  return `${words.note}, ${words.place}: ${said.join("; ")}`;
}

function sayLevel(row: NoteRow, range: Range): string {
  if (row.levelDb === null) return notForeseen;
  const half = range?.levelDb ?? row.levelRangeDb;
  return `${row.levelDb.toFixed(0)} dB${half === null ? "" : ` ± ${half.toFixed(0)}`}`;
}

function sayDecay(row: NoteRow, range: Range): string {
  if (row.decayS === null) return notForeseen;
  const factor = range?.decayS != null ? 1 + range.decayS / row.decayS : row.decayRangeFactor;
  const spread =
    factor === null ? "" : `, ${(row.decayS / factor).toFixed(1)} to ${(row.decayS * factor).toFixed(1)}`;
  return `${row.decayS.toFixed(1)} s${spread}`;
}

function sayIndex(
  value: number | null,
  marked: boolean,
  limit: number,
  mark: string,
  sigma: number | null,
): string {
  if (value === null) return notForeseen;
  const spread = sigma === null ? "" : ` ± ${sigma.toFixed(1)}`;
  // just under the limit is not written as the limit
  const places = !marked && Number(value.toFixed(1)) >= limit ? 2 : 1;
  return `${value.toFixed(places)}${spread}${marked ? `, ${mark}` : ""}`;
}

function sayBlame(row: NoteRow, modes: readonly NamedMode[]): string | null {
  const mode = row.blame === null ? undefined : modes[row.blame.modeIndex];
  if (row.blame === null || mode === undefined) return null;
  const cents = Math.round(row.blame.centsOff);
  const off = cents === 0 ? "on it" : `${Math.abs(cents)} cents ${cents > 0 ? "over" : "under"} it`;
  const which = row.blame.partial === 1 ? "the fundamental" : `partial ${row.blame.partial},`;
  return `${mode.name ?? "mode"} ${mode.frequencyHz.toFixed(0)} Hz, ${which} ${off}`;
}
