import { circle, filled, lineMm, type Mark, words } from "../displayList.ts";

/** A letter in a ring on the paper. */
export function ring(letter: string, x: number, y: number): readonly Mark[] {
  return [
    filled([circle(x, y, 3)], "paper", { ink: "ink", widthMm: lineMm.fine }),
    words(letter, x, y + 1.4, 4, { anchor: "middle", bold: true }),
  ];
}
