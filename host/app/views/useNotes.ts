import { useMemo, useRef } from "react";
import type { VoiceView } from "#engine/drawings";
import { isDead, isWolf, type NoteRow } from "#engine/notes";
import type { LivePicture } from "../desk/deskTypes.ts";
import type { NoteInk } from "./NoteCell.tsx";
import { figureOf, inkShare, noteChanges, noteKey } from "./noteInk.ts";
import { noteWords, rangeOf, spokenNote } from "./noteWords.ts";
import type { NoteFigure } from "./viewTypes.ts";

/**
 * The ink of every note for the chosen figure, against `before` where a hand has changed it (null: nothing did). A note that
 * looks as it did keeps its record, so that it is not drawn again.
 */
export function useNotes(
  view: VoiceView,
  rows: readonly NoteRow[],
  before: readonly NoteRow[] | null,
  figure: NoteFigure,
  lanePx: number,
  middle: number,
  modes: VoiceView["modes"] | LivePicture["modes"],
): ReadonlyMap<string, NoteInk> {
  const kept = useRef(new Map<string, NoteInk>());
  return useMemo(() => {
    const changes = before === null ? null : noteChanges(before, rows, figure);
    const ink = (value: number) => Math.round(20 * inkShare(value, figure, middle) * lanePx) / 20;
    const made = new Map<string, NoteInk>();
    for (const row of rows) {
      const value = figureOf(row, figure);
      const change = changes?.get(noteKey(row));
      const wide = value === null ? null : ink(value);
      const trace = change === undefined ? null : ink(change.before);
      const note: NoteInk = {
        ink: wide,
        trace: trace !== null && wide !== null && Math.abs(trace - wide) >= 0.5 ? trace : null,
        way: change?.way ?? 0,
        wolf: isWolf(row),
        dead: isDead(row),
        over: (figure === "wolf" && isWolf(row)) || (figure === "dead" && isDead(row)),
        tapers: figure === "decay",
        label: spokenNote(noteWords(row, rangeOf(view, row, before !== null), modes), figure),
      };
      const old = kept.current.get(noteKey(row));
      made.set(noteKey(row), old !== undefined && sameInk(old, note) ? old : note);
    }
    kept.current = made;
    return made;
  }, [view, rows, before, figure, lanePx, middle, modes]);
}

function sameInk(a: NoteInk, b: NoteInk): boolean {
  return (Object.keys(a) as (keyof NoteInk)[]).every((name) => a[name] === b[name]);
}
