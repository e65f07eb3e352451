import { type StretchedString, type StringPartials, stretched, stringPartials } from "#engine/strings";
import type { BoardString } from "./boardString.ts";
import { type StringPoles, stringPoles } from "./crownSystem.ts";
import { type BlockedString, blockedString } from "./pluckedPressure.ts";

/** What a note is before any body is known: the same for every edit of the body. Plain data. */
export interface ReadyNote {
  readonly partials: StringPartials;
  readonly poles: StringPoles;
  readonly blocked: BlockedString;
}

/** Every note of a board, string after string. */
export interface ReadyBoard {
  /** Hz: the poles serve a board whose two ranges end no higher than this, and one of them here. */
  readonly highest: number;
  readonly notes: readonly ReadyNote[];
}

/** The pluck of the definitions: 1 N let go, 120 mm from the crown or a quarter of the length, 45 degrees. */
const pluckDistance = 0.12;
export const listedPartials = 10;

export function pluckFromCrown(length: number): number {
  return Math.min(pluckDistance, length / 4);
}

/** `highest`: Hz, to where modes are sought. */
export function readyNote(s: StretchedString, highest: number, quick: boolean): ReadyNote {
  const poles = stringPoles(s, highest, quick);
  return {
    partials: stringPartials(s, listedPartials),
    poles,
    blocked: blockedString(poles, pluckFromCrown(s.length) / s.length),
  };
}

/** The string as it sounds at a fret. */
export function stoppedString(owner: BoardString, fret: number): StretchedString {
  const length = owner.scaleLength - owner.fretDistance[fret]!;
  return stretched(owner.design, owner.scaleLength, owner.frequency, length);
}

/** The notes of frets 0 to `frets` for the quick way of `noteBoard`. */
export function readyBoard(strings: readonly BoardString[], frets: number, highest: number): ReadyBoard {
  const notes = strings.flatMap((owner) =>
    Array.from({ length: frets + 1 }, (_, fret) => readyNote(stoppedString(owner, fret), highest, true)),
  );
  return { highest, notes };
}
