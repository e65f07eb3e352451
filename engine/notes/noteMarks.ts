import type { NoteRow } from "./board.ts";

/** From these indices on a note is marked: a string's partial and a body mode split into two; half the decay of its neighbours. */
export const wolfFrom = 1;
export const deadFrom = 2;

export function isWolf({ wolfIndex }: Pick<NoteRow, "wolfIndex">): boolean {
  return wolfIndex !== null && wolfIndex >= wolfFrom;
}

export function isDead({ deadIndex }: Pick<NoteRow, "deadIndex">): boolean {
  return deadIndex !== null && deadIndex >= deadFrom;
}
