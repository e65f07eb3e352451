import type { NoteBoard, NoteRow } from "./board.ts";

/** By note, string after string: what the exact board makes of a note beside the quick one of the same body. */
export interface BoardAnchor {
  /** dB. */
  readonly level: Float64Array;
  readonly levelA: Float64Array;
  /** Factor. */
  readonly decay: Float64Array;
}

/**
 * What the quick way leaves out, above all that nut and frets yield, taken over from one body to others much like it. Where one
 * of the boards has no figure nothing is added.
 */
export function boardAnchor(exact: NoteBoard, quick: NoteBoard): BoardAnchor {
  const of = (figure: (exact: NoteRow, quick: NoteRow) => number | null, none: number): Float64Array =>
    Float64Array.from(exact.noteBoard, (row, i) => {
      const other = quick.noteBoard[i];
      return (other && figure(row, other)) ?? none;
    });
  const less = (a: number | null, b: number | null) => (a === null || b === null ? null : a - b);
  return {
    level: of((a, b) => less(a.levelDb, b.levelDb), 0),
    levelA: of((a, b) => less(a.levelDbA, b.levelDbA), 0),
    decay: of((a, b) => (a.decayS === null || b.decayS === null ? null : a.decayS / b.decayS), 1),
  };
}

/** A note's level and decay with it. */
export function anchored<T extends { levelDb: number | null; levelDbA: number | null; decay: number | null }>(
  sound: T,
  anchor: BoardAnchor,
  note: number,
): T {
  const { levelDb, levelDbA, decay } = sound;
  return {
    ...sound,
    levelDb: levelDb === null ? null : levelDb + anchor.level[note]!,
    levelDbA: levelDbA === null ? null : levelDbA + anchor.levelA[note]!,
    decay: decay === null ? null : decay * anchor.decay[note]!,
  };
}
