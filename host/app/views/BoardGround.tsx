import { memo } from "react";
import type { NoteRow } from "#engine/notes";
import { type BoardGrid, nameRoomPx } from "./boardGrid.ts";
import { closed, open } from "./NoteCell.tsx";
import { apart } from "./spacing.ts";

/** Room that a number asks for, px. */
const numberRoomPx = 19;

/** The fingerboard itself: wood, nut and slots, numbers of the frets, names of the open strings. */
export const BoardGround = memo(function BoardGround({
  grid,
  rows,
  hand,
}: {
  readonly grid: BoardGrid;
  readonly rows: readonly NoteRow[];
  readonly hand: "right" | "left";
}) {
  const off = hand === "right" ? -8 : 8;
  const opens = grid.cells.filter((cell) => cell.fret === 0);
  const nameY = apart(
    opens.map(({ path }) => path[0][1]),
    nameRoomPx,
  );
  return (
    <svg className="board-ground" width={grid.widthPx} height={grid.heightPx} aria-hidden="true">
      <path className="board-wood" d={closed(grid.edge)} />
      {grid.slots.map(({ fret, line }) => (
        <path key={fret} className="board-slot" d={open(line)} />
      ))}
      <path className="board-slot nut" d={open(grid.nut)} />
      {fretNumbers(grid).map(({ fret, x, y }) => (
        <text key={fret} className="fret-number" x={x} y={y} textAnchor="middle">
          {fret === 0 ? "open" : fret}
        </text>
      ))}
      {opens.map(({ string, path: [[x, y]] }, i) => (
        <g key={string}>
          <path
            className="open-lead"
            d={open([
              [x, y],
              [x + off, nameY[i]!],
            ])}
          />
          <text
            className="open-name"
            x={x + 1.3 * off}
            y={nameY[i]}
            dominantBaseline="central"
            textAnchor={hand === "right" ? "end" : "start"}
          >
            {rows.find((row) => row.string === string && row.fret === 0)?.note}
          </text>
        </g>
      ))}
    </svg>
  );
});

/** A number above every stretch that has room for it; from the nut on, every other one where they grow narrow. */
function fretNumbers(
  grid: BoardGrid,
): readonly { readonly fret: number; readonly x: number; readonly y: number }[] {
  const placed: { fret: number; x: number; y: number }[] = [];
  for (const { fret, corners } of grid.cells.slice(0, grid.frets + 1)) {
    const [far, near] = corners;
    const x = (far[0] + near[0]) / 2;
    const last = placed.at(-1);
    if (last === undefined || fret === 1 || Math.abs(x - last.x) >= numberRoomPx)
      placed.push({ fret, x, y: Math.min(far[1], near[1]) - 8 });
  }
  return placed;
}
