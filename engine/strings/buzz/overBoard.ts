import type { FrettingString } from "../fretting/frettingString.ts";

/** Heights and places of a string over its board in its own vertical plane, as fretting has them. */
export type StringOverBoard = Pick<
  FrettingString,
  "string" | "scaleLength" | "fretPlace" | "crownHeight" | "nutHeight" | "saddleHeight"
>;

/** Where the string is held towards the nut when stopped at `fret` (0: open), m: place and height. */
export function stoppedAt(s: StringOverBoard, fret: number): readonly [place: number, height: number] {
  return fret === 0 ? [0, s.nutHeight] : [s.fretPlace[fret]!, s.crownHeight[fret]!];
}

/** The fret that the action is measured over. */
export function actionFret(s: StringOverBoard): number {
  return Math.min(12, s.fretPlace.length - 1);
}

/** Height of the open string over the crown of each fret; index 0: over the line of the crowns at the nut, m. */
export function heightsOverFrets(s: StringOverBoard): Float64Array {
  const rise = (s.saddleHeight - s.nutHeight) / s.scaleLength;
  return s.fretPlace.map((place, f) => s.nutHeight + rise * place - s.crownHeight[f]!);
}
