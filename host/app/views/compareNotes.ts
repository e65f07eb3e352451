import type { NoteRow } from "#engine/notes";
import type { NoteInk } from "./NoteCell.tsx";
import { changeWords, figureOf, noteKey } from "./noteInk.ts";
import type { NoteFigure } from "./viewTypes.ts";

/** A step of this much is drawn at a third of the distance between strings: dB, factor (as its logarithm to 2), index. */
const fullStep: Readonly<Record<NoteFigure, number>> = { level: 6, decay: 1, wolf: 1, dead: 1 };
/** Under this nothing is drawn as a step. */
const leastStep: Readonly<Record<NoteFigure, number>> = { level: 1, decay: 0.15, wolf: 0.1, dead: 0.2 };
const [leastInk, fullInk, mostInk] = [0.035, 0.36, 0.74];

/**
 * The difference of two boards, B less A, as ink on A's fingerboard: full where B has more of the figure, an outline where it
 * has less, a hair where they are alike; hatched where one of them foresees nothing. By `noteKey`.
 */
export function differenceInks(
  a: readonly NoteRow[],
  b: readonly NoteRow[],
  figure: NoteFigure,
  lanePx: number,
): ReadonlyMap<string, NoteInk> {
  const other = new Map(b.map((row) => [noteKey(row), row]));
  return new Map(
    a.map((row) => {
      const step = stepOf(row, other.get(noteKey(row)), figure);
      const share =
        step === null
          ? null
          : Math.min(mostInk, Math.max(leastInk, (fullInk * Math.abs(step)) / fullStep[figure]));
      const counts = step !== null && Math.abs(step) >= leastStep[figure];
      return [
        noteKey(row),
        {
          ink: share === null ? null : Math.round(20 * share * lanePx) / 20,
          trace: null,
          way: 0,
          wolf: false,
          dead: false,
          over: false,
          tapers: false,
          hollow: counts && step < 0,
          label: `${row.note}, string ${row.string}, ${row.fret === 0 ? "open" : `fret ${row.fret}`}: ${sayStep(step, figure)}`,
        },
      ];
    }),
  );
}

/** B less A: dB, logarithm to 2 of the decays' ratio, or index. */
function stepOf(a: NoteRow, b: NoteRow | undefined, figure: NoteFigure): number | null {
  const [va, vb] = [figureOf(a, figure), b === undefined ? null : figureOf(b, figure)];
  if (va === null || vb === null) return null;
  return figure === "decay" ? Math.log2(vb / va) : vb - va;
}

function sayStep(step: number | null, figure: NoteFigure): string {
  if (step === null) return "no difference foreseen";
  if (Math.abs(step) < leastStep[figure]) return "about the same";
  const [up, down] = changeWords(figure);
  const size =
    figure === "decay"
      ? `by a factor of ${(2 ** Math.abs(step)).toFixed(1)}`
      : `by ${Math.abs(step).toFixed(figure === "level" ? 0 : 1)}${figure === "level" ? " dB" : ""}`;
  return `${step > 0 ? up : down} ${size}`;
}
