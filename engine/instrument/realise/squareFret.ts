import { type BoardSpec, boardLayout } from "#engine/geometry";
import { type Issue, stop } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { inMillimetres } from "./planFault.ts";

/** Step and reach of the search for a square fret that works. */
const step = 0.5;
const reach = 130;

/** Why a board cannot be laid out; where another square fret would mend it, the nearest one is named. */
export function layoutIssue(
  { strings }: InstrumentDocument,
  board: BoardSpec,
  reason: string,
  detail: string,
): Issue {
  const why = `${inMillimetres(detail)}.`;
  const { scale } = strings;
  if (scale.kind === "skewed") {
    const near = nearestSquareFret(board);
    if (near !== null) {
      const found =
        typeof scale.squareFret === "number" ? `fret ${scale.squareFret}` : `the ${scale.squareFret}`;
      return stop(
        "square-fret",
        "strings.scale.squareFret",
        `With ${found} square to the centreline this board cannot be laid out: ${why}`,
        {
          found: JSON.stringify(scale.squareFret),
          allowed: "a fret with which nut and slots cross both edges of the board, one after the other",
          example: String(near),
          remedy: `The nearest square fret that works is ${near}; between 5 and 9 is customary (common practice, no source).`,
        },
      );
    }
  }
  const path = reason === "temperament" ? "fingerboard.centsTable" : "strings.scale";
  return stop(reason, path, `The board cannot be laid out: ${why}`);
}

function nearestSquareFret(board: BoardSpec): number | null {
  const works = (squareFret: number): boolean => boardLayout({ ...board, squareFret }).ok;
  // A square fret beyond the last one in reach (the bridge) is sought from there inward.
  const from = Math.min(board.squareFret, reach);
  for (let k = 1; k * step <= 2 * reach; k++) {
    for (const squareFret of [from + k * step, from - k * step]) {
      const rounded = Math.round(squareFret / step) * step;
      if (Math.abs(rounded) <= reach && works(rounded)) return rounded;
    }
  }
  return null;
}
