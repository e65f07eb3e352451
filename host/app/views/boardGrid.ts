import type { BoardView } from "#engine/drawings";
import type { Point } from "#engine/geometry";

/** Pixels of the drawing, x to the right and y down. */
export type Pixel = readonly [x: number, y: number];

/** One string between two slots. Fret 0 is the stretch behind the nut where the open note is written. */
export interface GridCell {
  readonly string: number;
  readonly fret: number;
  /** Round the cell: far and near slot at one border of the string's lane, near and far at the other. */
  readonly corners: readonly [Pixel, Pixel, Pixel, Pixel];
  /** Where the string crosses the cell's slot nearer the nut, and the one nearer the bridge. */
  readonly path: readonly [Pixel, Pixel];
}

/** The fingerboard at a scale, as its player looks down on it: bass at the lower edge, the nut to the left for a right hand. */
export interface BoardGrid {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pxPerMetre: number;
  /** By string from 1, then by fret from 0. */
  readonly cells: readonly GridCell[];
  readonly strings: number;
  readonly frets: number;
  /** Distance of neighbouring strings at the nut, px. */
  readonly lanePx: number;
  readonly edge: readonly Pixel[];
  readonly nut: readonly [Pixel, Pixel];
  readonly slots: readonly { readonly fret: number; readonly line: readonly [Pixel, Pixel] }[];
}

type Line = readonly [Point, Point];

/** Length of the stretch behind the nut that stands for the open notes, m. */
const openStretch = 0.016;

/** Room that the names of the open strings ask for, one under the other, px. */
export const nameRoomPx = 16;

/** Room round a board that is to be drawn at a width: names beyond the nut, numbers above; where lanes are narrow the names fan out. */
export function boardMargins(board: BoardView, widthPx: number): Margins {
  const lanes = board.strings.length - 1;
  const nuts = board.strings.map(({ nut }) => nut[1]);
  const length = Math.abs((board.slots.at(-1)?.bass[0] ?? 0) - board.nutLine.bass[0]) || 1;
  const breadthPx = ((Math.max(...nuts) - Math.min(...nuts)) * widthPx) / length;
  const fan = Math.max(0, (lanes * nameRoomPx - breadthPx) / 2);
  return { nut: 46, end: 4, above: Math.max(26, fan), below: 8 + fan };
}

interface Margins {
  readonly nut: number;
  readonly end: number;
  readonly above: number;
  readonly below: number;
}

/** The board's extent at a scale of 1 px a metre, and how a place of the body comes to lie on it. */
function lay(board: BoardView, hand: "right" | "left", lines: readonly Line[]) {
  const points = [...lines.flat(), board.bassEdge[1], board.trebleEdge[1]];
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [minX, maxX] = [Math.min(...xs), Math.max(...xs)];
  const [minY, maxY] = [Math.min(...ys), Math.max(...ys)];
  // half a turn of the plan for the right hand, none for the left, whose plan comes mirrored: never a mirror image
  const along = (x: number) => (hand === "right" ? maxX - x : x - minX);
  const across = (y: number) => (hand === "right" ? y - minY : maxY - y);
  return { length: maxX - minX, breadth: maxY - minY, along, across };
}

/**
 * Cells between the real slots, lanes parted halfway between strings and, outside, by the edges of the board. Drawn
 * `widthPx` wide less the margins, or as large as it takes for lanes of `leastLanePx` at the nut.
 */
export function boardGrid(
  board: BoardView,
  hand: "right" | "left",
  widthPx: number,
  margins: Margins = boardMargins(board, widthPx),
  leastLanePx = 0,
): BoardGrid {
  const strings = [...board.strings].sort((a, b) => a.string - b.string);
  const lines = strings.map((s): Line => [s.nut, s.saddle]);
  const between = lines
    .slice(1)
    .map((line, i): Line => [middle(line[0], lines[i]![0]), middle(line[1], lines[i]![1])]);
  const borders: readonly Line[] = [board.trebleEdge, ...between, board.bassEdge];
  const nut: Line = [board.nutLine.bass, board.nutLine.treble];
  const slots = board.slots.map((s): Line => [s.bass, s.treble]);
  const last = slots.at(-1) ?? nut;
  const back = last[0][0] < nut[0][0] ? openStretch : -openStretch;
  const head: Line = [
    [nut[0][0] + back, nut[0][1]],
    [nut[1][0] + back, nut[1][1]],
  ];
  const crosses = [head, nut, ...slots];
  const placed = lay(board, hand, [...crosses, nut]);
  const lane = Math.hypot(
    lines[0]![0][0] - (lines[1] ?? lines[0])![0][0],
    lines[0]![0][1] - (lines[1] ?? lines[0])![0][1],
  );
  const fitted = (widthPx - margins.nut - margins.end) / placed.length;
  const pxPerMetre = lane > 0 ? Math.max(fitted, leastLanePx / lane) : fitted;
  const left = hand === "right" ? margins.nut : margins.end;
  const px = ([x, y]: Point): Pixel => [
    left + placed.along(x) * pxPerMetre,
    margins.above + placed.across(y) * pxPerMetre,
  ];
  const cells = strings.flatMap((s, i) =>
    crosses.slice(1).map((near, fret): GridCell => {
      const far = crosses[fret]!;
      const at = (cross: Line, line: Line) => px(meet(cross, line));
      return {
        string: s.string,
        fret,
        corners: [
          at(far, borders[i]!),
          at(near, borders[i]!),
          at(near, borders[i + 1]!),
          at(far, borders[i + 1]!),
        ],
        path: [at(far, lines[i]!), at(near, lines[i]!)],
      };
    }),
  );
  return {
    widthPx: Math.max(widthPx, placed.length * pxPerMetre + margins.nut + margins.end),
    heightPx: placed.breadth * pxPerMetre + margins.above + margins.below,
    pxPerMetre,
    cells,
    strings: strings.length,
    frets: slots.length,
    lanePx: lane * pxPerMetre,
    edge: [...board.bassEdge, board.trebleEdge[1], board.trebleEdge[0]].map(px),
    nut: [px(nut[0]), px(nut[1])],
    slots: board.slots.map((s) => ({ fret: s.fret, line: [px(s.bass), px(s.treble)] })),
  };
}

/** The cell under a place of the drawing; null beside the board. */
export function cellAt(grid: BoardGrid, [x, y]: Pixel): GridCell | null {
  return grid.cells.find(({ corners }) => inside(corners, x, y)) ?? null;
}

/**
 * Where an arrow key leads from a note, as the board is seen: up and down across the strings, left and right along them.
 * Home and End go to the open note and to the last fret. Null for any other key.
 */
export function stepOnBoard(
  grid: Pick<BoardGrid, "strings" | "frets">,
  hand: "right" | "left",
  at: { readonly string: number; readonly fret: number },
  pressed: string,
): { readonly string: number; readonly fret: number } | null {
  const toBridge = hand === "right" ? 1 : -1;
  const [strings, frets] = (
    {
      ArrowUp: [-1, 0],
      ArrowDown: [1, 0],
      ArrowRight: [0, toBridge],
      ArrowLeft: [0, -toBridge],
      Home: [0, -at.fret],
      End: [0, grid.frets - at.fret],
    } as Record<string, readonly [number, number]>
  )[pressed] ?? [null, 0];
  if (strings === null) return null;
  return {
    string: Math.min(grid.strings, Math.max(1, at.string + strings)),
    fret: Math.min(grid.frets, Math.max(0, at.fret + frets)),
  };
}

function inside(corners: readonly Pixel[], x: number, y: number): boolean {
  let within = false;
  for (let i = 0, j = corners.length - 1; i < corners.length; j = i++) {
    const [ax, ay] = corners[i]!;
    const [bx, by] = corners[j]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) within = !within;
  }
  return within;
}

function middle(a: Point, b: Point): Point {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}

/** Where two lines meet. */
function meet([a, b]: Line, [p, q]: Line): Point {
  const [ax, ay] = [b[0] - a[0], b[1] - a[1]];
  const [bx, by] = [q[0] - p[0], q[1] - p[1]];
  const t = ((p[0] - a[0]) * by - (p[1] - a[1]) * bx) / (ax * by - ay * bx);
  return [a[0] + t * ax, a[1] + t * ay];
}
