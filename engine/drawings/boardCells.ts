import type { Point } from "#engine/geometry";
import type { BoardView } from "./voiceView.ts";

/** One string between two slots, in the body frame. Fret 0 is the stretch behind the nut where the open note is written. */
export interface BoardCell {
  readonly string: number;
  readonly fret: number;
  /** Four corners in order round the cell. */
  readonly corners: readonly [Point, Point, Point, Point];
  /** Where the string crosses the cell's slot nearer the nut, and the one nearer the bridge. */
  readonly stringPath: readonly [Point, Point];
}

type Cross = { readonly bass: Point; readonly treble: Point };

/** Length of the stretch behind the nut that stands for the open notes, m. */
const openStretch = 0.016;

/**
 * The board cut into cells, one for each string and fret: along the strings by the real slots, across by the lines
 * halfway between strings and, outside, by the edges of the board.
 */
export function boardCells(board: BoardView): readonly BoardCell[] {
  const back = backward(board);
  const head: Cross = {
    bass: [board.nutLine.bass[0] + back[0], board.nutLine.bass[1] + back[1]],
    treble: [board.nutLine.treble[0] + back[0], board.nutLine.treble[1] + back[1]],
  };
  const crosses: readonly Cross[] = [head, board.nutLine, ...board.slots];
  const strings = [...board.strings].sort((a, b) => a.string - b.string);
  const lines = strings.map((s) => [s.nut, s.saddle] as const);
  const middles = lines
    .slice(1)
    .map((line, i) => [middle(line[0], lines[i][0]), middle(line[1], lines[i][1])] as const);
  const borders = [board.trebleEdge, ...middles, board.bassEdge];
  return strings.flatMap((s, i) =>
    crosses.slice(1).map((near, fret): BoardCell => {
      const far = crosses[fret];
      return {
        string: s.string,
        fret,
        corners: [
          meet(far, borders[i]),
          meet(near, borders[i]),
          meet(near, borders[i + 1]),
          meet(far, borders[i + 1]),
        ],
        stringPath: [meet(far, lines[i]), meet(near, lines[i])],
      };
    }),
  );
}

/** The step from the nut away from the bridge, along the centreline. */
function backward(board: BoardView): Point {
  const last = board.slots[board.slots.length - 1];
  return [last.bass[0] < board.nutLine.bass[0] ? openStretch : -openStretch, 0];
}

function middle(a: Point, b: Point): Point {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}

/** Where the line through a cross meets the line through two points. */
function meet(cross: Cross, [p, q]: readonly [Point, Point]): Point {
  const ax = cross.treble[0] - cross.bass[0];
  const ay = cross.treble[1] - cross.bass[1];
  const bx = q[0] - p[0];
  const by = q[1] - p[1];
  const t = ((p[0] - cross.bass[0]) * by - (p[1] - cross.bass[1]) * bx) / (ax * by - ay * bx);
  return [cross.bass[0] + t * ax, cross.bass[1] + t * ay];
}
