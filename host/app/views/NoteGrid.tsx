import { type KeyboardEvent, type PointerEvent, useId } from "react";
import type { NoteRow } from "#engine/notes";
import { BoardGround } from "./BoardGround.tsx";
import { type BoardGrid, cellAt, stepOnBoard } from "./boardGrid.ts";
import { HatchPattern } from "./HatchPattern.tsx";
import { NoteCell, type NoteInk } from "./NoteCell.tsx";
import { noteKey } from "./noteInk.ts";

/** A place on the board. */
export interface NotePlace {
  readonly string: number;
  readonly fret: number;
}

/** The drawn board as a grid of notes: one is current; arrow keys, pointer and finger move, Enter and a click play. */
export function NoteGrid({
  grid,
  hand,
  rows,
  notes,
  at,
  onMove,
  onPlay,
  name = "Note board",
}: {
  readonly grid: BoardGrid;
  readonly hand: "right" | "left";
  readonly rows: readonly NoteRow[];
  /** By `noteKey`. */
  readonly notes: ReadonlyMap<string, NoteInk>;
  readonly at: NotePlace;
  readonly onMove: (note: NotePlace) => void;
  readonly onPlay?: (string: number, fret: number) => void;
  readonly name?: string;
}) {
  const hatch = useId();
  const deeds = boardDeeds(grid, hand, at, onMove, ({ string, fret }) => onPlay?.(string, fret));
  return (
    <div className="board-sheet" style={{ width: grid.widthPx, height: grid.heightPx }}>
      <BoardGround grid={grid} rows={rows} hand={hand} />
      {/* biome-ignore lint/a11y/useSemanticElements: a table cannot lie askew */}
      <svg
        width={grid.widthPx}
        height={grid.heightPx}
        // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: the drawing is the grid, its notes are the cells
        role="grid"
        aria-label={`${name}: ${grid.strings} strings, ${grid.frets} frets. Arrow keys move from note to note${onPlay === undefined ? "" : ", Enter plays"}.`}
        aria-rowcount={grid.strings}
        aria-colcount={grid.frets + 1}
        {...deeds}
      >
        <HatchPattern id={hatch} />
        {lanes(grid).map((lane) => (
          // biome-ignore lint/a11y/useSemanticElements: a row of a drawing
          <g key={lane[0]?.string} role="row">
            {lane.map((cell) => {
              const note = notes.get(noteKey(cell));
              return note === undefined ? null : (
                <NoteCell
                  key={cell.fret}
                  cell={cell}
                  note={note}
                  lanePx={grid.lanePx}
                  current={cell.string === at.string && cell.fret === at.fret}
                  hatch={hatch}
                />
              );
            })}
          </g>
        ))}
      </svg>
    </div>
  );
}

/** Pointer and keys on the whole board: one note is current, and a finger drawn over the board reads along. */
function boardDeeds(
  grid: BoardGrid,
  hand: "right" | "left",
  at: NotePlace,
  onMove: (note: NotePlace) => void,
  strike: (note: NotePlace) => void,
) {
  const under = (event: PointerEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    return cellAt(grid, [event.clientX - box.left, event.clientY - box.top]);
  };
  const go = (svg: Element, note: NotePlace) => {
    onMove(note);
    svg.querySelector<SVGGElement>(`[data-note="${noteKey(note)}"]`)?.focus();
  };
  return {
    onPointerMove(event: PointerEvent<SVGSVGElement>) {
      const cell = under(event);
      if (cell !== null && (cell.string !== at.string || cell.fret !== at.fret))
        onMove({ string: cell.string, fret: cell.fret });
    },
    onPointerUp(event: PointerEvent<SVGSVGElement>) {
      const cell = under(event);
      if (cell === null || event.button !== 0) return;
      const note = { string: cell.string, fret: cell.fret };
      onMove(note);
      strike(note);
    },
    onKeyDown(event: KeyboardEvent<SVGSVGElement>) {
      if (event.ctrlKey || event.altKey || event.metaKey) return;
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        strike(at);
        return;
      }
      const next = stepOnBoard(grid, hand, at, event.key);
      if (next === null) return;
      event.preventDefault();
      go(event.currentTarget, next);
    },
  };
}

function lanes(grid: BoardGrid) {
  return Array.from({ length: grid.strings }, (_, i) =>
    grid.cells.slice(i * (grid.frets + 1), (i + 1) * (grid.frets + 1)),
  );
}
