import type { Point } from "#engine/geometry";
import { deadFrom, isDead, isWolf, type NoteRow, wolfFrom } from "#engine/notes";
import { type BoardCell, boardCells } from "./boardCells.ts";
import { circle, type Drawing, filled, group, lineMm, type Mark, stroked, words } from "./displayList.ts";
import { hatch } from "./hatch.ts";
import { extentOf, type Placing, placeOnSheet, strip } from "./placing.ts";
import { sayScale } from "./scaleBar.ts";
import type { BoardView, VoiceView } from "./voiceView.ts";

const widthMm = 186;
/** Room for the names of the open strings at the nut, and at the other end. */
const nutMarginMm = 9;
const endMarginMm = 1;
const mostCallouts = 8;

/** Thickness (mm) of a string's ink at the middle level, and the factor by which 6 dB changes it. */
const middleInkMm = 0.62;
const sixDb = 1.75;

/**
 * The note board drawn as the real fingerboard, to scale: the skewed slots where they will be cut, each string inked
 * between its slots as heavily as that note is loud, wolf and dead notes by their marks, and hatched where no level is
 * foreseen.
 */
export function noteBoardSheet(view: Pick<VoiceView, "board" | "noteBoard" | "hand" | "validToHz">): Drawing {
  const { board } = view;
  const cells = boardCells(board);
  const extent = extentOf([], [...cells.flatMap((c) => c.corners), board.bassEdge[1], board.trebleEdge[1]]);
  const mmPerMetre = (widthMm - nutMarginMm - endMarginMm) / (extent.maxX - extent.minX);
  const drawn = (extent.maxY - extent.minY) * mmPerMetre;
  const topMm = 9;
  const place = placeOnSheet(
    view.hand,
    extent,
    {
      x: view.hand === "right" ? nutMarginMm : endMarginMm,
      y: topMm,
      width: widthMm - nutMarginMm - endMarginMm,
      height: drawn,
    },
    mmPerMetre,
  );
  const rows = new Map(view.noteBoard.map((row) => [key(row.string, row.fret), row]));
  const median = middleLevel(view.noteBoard);
  const calloutY = topMm + drawn + 9;
  const legendY = calloutY + 10;
  const pairs = cells.flatMap((cell) => {
    const row = rows.get(key(cell.string, cell.fret));
    return row === undefined ? [] : [{ cell, row }];
  });
  return {
    widthMm,
    heightMm: legendY + 9,
    title: "Note board",
    description: `The fingerboard at ${sayScale(mmPerMetre)} with ${board.slots.length} slots and ${board.strings.length} strings; ${count(view.noteBoard, isWolf)} wolf notes, ${count(view.noteBoard, isDead)} dead notes, ${count(view.noteBoard, (r) => r.levelDb === null)} notes without a foreseen level.`,
    marks: [
      boardEdges(board, place),
      ...pairs.map(({ cell, row }) => note(cell, row, median, place)),
      slots(board, place),
      ...pairs.flatMap(({ cell, row }) => warnings(cell, row, place)),
      ...callouts(pairs, place, calloutY),
      ...fretNumbers(cells, place),
      ...openNames(cells, rows, place, view.hand),
      ...legend(legendY, view.validToHz),
    ],
  };
}

function key(string: number, fret: number): string {
  return `${string}/${fret}`;
}

function count(rows: readonly NoteRow[], test: (row: NoteRow) => boolean): number {
  return rows.filter(test).length;
}

/** Median of the levels foreseen, dB; 0 if none is. */
export function middleLevel(rows: readonly NoteRow[]): number {
  const levels = rows.flatMap((row) => (row.levelDb === null ? [] : [row.levelDb])).sort((a, b) => a - b);
  return levels.length === 0 ? 0 : levels[Math.floor(levels.length / 2)];
}

/** Thickness of ink for a level over the board's middle, mm: 1.75 times for every 6 dB, within what a cell can hold. */
export function inkWidth(overMiddleDb: number): number {
  return Math.min(2.1, Math.max(0.09, middleInkMm * sixDb ** (overMiddleDb / 6)));
}

function sheetChain(points: readonly Point[], place: Placing): Float64Array {
  return Float64Array.from(points.flatMap(([x, y]) => place.point(x, y)));
}

function boardEdges(board: BoardView, place: Placing): Mark {
  const corners = [...board.bassEdge, board.trebleEdge[1], board.trebleEdge[0]];
  return group("board edges", [
    filled([sheetChain(corners, place)], "spruce", { ink: "ink", widthMm: lineMm.medium }),
  ]);
}

function slots(board: BoardView, place: Placing): Mark {
  const piece = (s: { readonly bass: Point; readonly treble: Point }) =>
    sheetChain([s.bass, s.treble], place);
  return group("slots", [
    ...board.slots.map((s) =>
      group(`slot ${s.fret}`, [stroked([piece(s)], { ink: "ink", widthMm: lineMm.fine })]),
    ),
    group("slot 0", [stroked([piece(board.nutLine)], { ink: "ink", widthMm: lineMm.heavy })]),
  ]);
}

function note(cell: BoardCell, row: NoteRow, median: number, place: Placing): Mark {
  const outline = sheetChain(cell.corners, place);
  const path = sheetChain(cell.stringPath, place);
  const title = `string ${row.string}, ${row.fret === 0 ? "open" : `fret ${row.fret}`}: ${row.note}, ${row.frequencyHz.toFixed(1)} Hz, ${row.levelDb === null ? "level not foreseen" : `${row.levelDb.toFixed(0)} dB`}${row.decayS === null ? "" : `, dies in ${row.decayS.toFixed(1)} s`}`;
  if (row.levelDb === null) {
    return group(
      "not foreseen",
      [
        stroked(hatch(outline, 0.85), { ink: "soft", widthMm: lineMm.hair }),
        stroked([path], { ink: "soft", widthMm: lineMm.hair }),
      ],
      title,
    );
  }
  return group("foreseen", [filled([strip(path, inkWidth(row.levelDb - median))], "ink")], title);
}

/** The marks of a note that needs a look: a ring with a zigzag for a wolf, a cross for a dead note. */
function warnings(cell: BoardCell, row: NoteRow, place: Placing): readonly Mark[] {
  const [a, b] = cell.stringPath.map(([x, y]) => place.point(x, y));
  const both = isWolf(row) && isDead(row);
  const at = (f: number): readonly [number, number] => [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1])];
  return [
    ...(isWolf(row) ? [wolfMark(...at(both ? 0.34 : 0.5))] : []),
    ...(isDead(row) ? [deadMark(...at(both ? 0.74 : 0.5))] : []),
  ];
}

/** The gravest wolf and dead notes by name, each on a thin line from its mark to the row of names below the board. */
function callouts(
  pairs: readonly { readonly cell: BoardCell; readonly row: NoteRow }[],
  place: Placing,
  y: number,
): readonly Mark[] {
  const spacing = 19;
  const grave = (row: NoteRow) => Math.max((row.wolfIndex ?? 0) / wolfFrom, (row.deadIndex ?? 0) / deadFrom);
  const named = pairs
    .filter(({ row }) => isWolf(row) || isDead(row))
    .sort((a, b) => grave(b.row) - grave(a.row))
    .slice(0, mostCallouts)
    .map(({ cell, row }) => {
      const [[ax, ay], [bx, by]] = cell.stringPath.map(([x, py]) => place.point(x, py));
      return { row, x: (ax + bx) / 2, y: (ay + by) / 2 };
    })
    .sort((a, b) => a.x - b.x);
  // Names keep their order along the board; each moves right as far as its neighbour asks, the row left as far as the sheet.
  const at: number[] = [];
  for (const { x } of named) at.push(Math.max(x, at.length === 0 ? 10 : at[at.length - 1] + spacing));
  for (let i = at.length - 1, most = widthMm - 10; i >= 0; i--, most -= spacing)
    at[i] = Math.min(at[i], most);
  return named.map(({ row, x, y: from }, i) => {
    const ink = isWolf(row) ? "accent" : "ink";
    const what = [...(isWolf(row) ? ["wolf"] : []), ...(isDead(row) ? ["dead"] : [])].join(", ");
    return group("callout", [
      stroked([Float64Array.of(x, from + 1.4, at[i], y - 3)], { ink, widthMm: lineMm.hair }),
      words(`${row.note} ${what}`, at[i], y, 3.2, { anchor: "middle", ink }),
    ]);
  });
}

function wolfMark(x: number, y: number): Mark {
  const zigzag = Float64Array.of(
    x - 0.85,
    y + 0.35,
    x - 0.43,
    y - 0.45,
    x,
    y + 0.45,
    x + 0.43,
    y - 0.45,
    x + 0.85,
    y + 0.35,
  );
  return group("wolf", [
    filled([circle(x, y, 1.35)], "paper", { ink: "accent", widthMm: lineMm.medium }),
    stroked([zigzag], { ink: "accent", widthMm: lineMm.fine }),
  ]);
}

function deadMark(x: number, y: number): Mark {
  const arm = 0.85;
  const cross = [
    Float64Array.of(x - arm, y - arm, x + arm, y + arm),
    Float64Array.of(x - arm, y + arm, x + arm, y - arm),
  ];
  return group("dead", [
    stroked(cross, { ink: "paper", widthMm: 1.1 }),
    stroked(cross, { ink: "ink", widthMm: lineMm.bold }),
  ]);
}

/** Numbers of the frets along the upper edge, above the middle of their stretch. */
function fretNumbers(cells: readonly BoardCell[], place: Placing): readonly Mark[] {
  const upper = highest(cells, place);
  return cells
    .filter((c) => c.string === upper)
    .map((c) => {
      const points = c.corners.map(([x, y]) => place.point(x, y)).sort((p, q) => p[1] - q[1]);
      const x = (points[0][0] + points[1][0]) / 2;
      return words(c.fret === 0 ? "open" : String(c.fret), x, Math.min(points[0][1], points[1][1]) - 1.6, 3, {
        anchor: "middle",
        ink: "soft",
      });
    });
}

function highest(cells: readonly BoardCell[], place: Placing): number {
  const y = (c: BoardCell) => place.point(...c.stringPath[0])[1];
  return cells.reduce((best, c) => (y(c) < y(best) ? c : best)).string;
}

function openNames(
  cells: readonly BoardCell[],
  rows: ReadonlyMap<string, NoteRow>,
  place: Placing,
  hand: "right" | "left",
): readonly Mark[] {
  return cells
    .filter((c) => c.fret === 0)
    .map((c) => {
      const [x, y] = place.point(...c.stringPath[0]);
      const off = hand === "right" ? -1.4 : 1.4;
      return words(rows.get(key(c.string, 0))?.note ?? "", x + off, y + 0.9, 2.5, {
        anchor: hand === "right" ? "end" : "start",
      });
    });
}

function legend(y: number, validToHz: number): readonly Mark[] {
  const item = (x: number, text: string, marks: readonly Mark[]): Mark =>
    group("legend", [...marks, words(text, x, y + 1.1, 3.1)]);
  const weight = (x: number, dB: number) =>
    filled([strip(Float64Array.of(x, y, x + 9, y), inkWidth(dB))], "ink");
  const swatch = Float64Array.of(118, y - 1.5, 126, y - 1.5, 126, y + 1.5, 118, y + 1.5);
  return [
    item(22, "6 dB under the middle", [weight(11, -6)]),
    group("legend", [weight(57, 6), words("6 dB over", 68, y + 1.1, 3.1)]),
    item(90.5, "wolf", [wolfMark(87.5, y)]),
    item(106, "dead", [deadMark(103.5, y)]),
    item(128, `level not foreseen (over ${validToHz.toFixed(0)} Hz)`, [
      stroked(hatch(swatch, 0.85), { ink: "soft", widthMm: lineMm.hair }),
      stroked([swatch], { ink: "soft", widthMm: lineMm.hair }, true),
    ]),
  ];
}
