import { type KeyboardEvent, type PointerEvent, useCallback, useId, useMemo, useRef, useState } from "react";
import type { NoteRow } from "#engine/notes";
import { Segments, Tick } from "../kit/index.ts";
import { BoardGround } from "./BoardGround.tsx";
import { type BoardGrid, boardGrid, cellAt, stepOnBoard } from "./boardGrid.ts";
import { HatchPattern } from "./HatchPattern.tsx";
import { NoteBoardLegend } from "./NoteBoardLegend.tsx";
import { NoteBoardTable } from "./NoteBoardTable.tsx";
import { NoteCell, type NoteInk } from "./NoteCell.tsx";
import { NoteReadout } from "./NoteReadout.tsx";
import { figureOf, inkShare, isDead, isWolf, middleOf, noteChanges, noteKey, sayChanges } from "./noteInk.ts";
import { noteWords, rangeOf, spokenNote } from "./noteWords.ts";
import { useWidth } from "./useWidth.ts";
import type { NoteBoardViewProps, NoteFigure } from "./viewTypes.ts";
import "./noteBoard.css";

export const figureOptions: readonly { readonly id: NoteFigure; readonly label: string }[] = [
  { id: "level", label: "Level" },
  { id: "decay", label: "Decay" },
  { id: "wolf", label: "Wolf index" },
  { id: "dead", label: "Dead index" },
];

/** Room round the board: names of open strings beyond the nut, fret numbers above. */
const marginsFor = { nut: 46, end: 4, above: 26, below: 8 } as const;
/** Lanes wide enough for a finger. */
const fingerPx = 44;

/**
 * The note board on the real fingerboard: every note's ink says the chosen figure, marks say wolf and dead, hatching says
 * what is not foreseen. Under the hand it shows the edit, with a trace of the last full voice.
 */
export function NoteBoardView({ view, live, onPlay }: NoteBoardViewProps) {
  const [figure, setFigure] = useState<NoteFigure>("level");
  const [large, setLarge] = useState(false);
  const [at, setAt] = useState({ string: view.board.strings.length, fret: 0 });
  const [frame, width] = useWidth<HTMLDivElement>();
  const hatch = useId();
  const rows = live?.board.noteBoard ?? view.noteBoard;
  const grid = useMemo(
    () => boardGrid(view.board, view.hand, Math.max(320, width), marginsFor, large ? fingerPx : 0),
    [view.board, view.hand, width, large],
  );
  const notes = useNotes(view, rows, live === null ? null : view.noteBoard, figure, grid);
  const row = rows.find((r) => r.string === at.string && r.fret === at.fret);
  const words = useMemo(
    () => (row === undefined ? null : noteWords(row, rangeOf(view, row, live !== null), view.modes)),
    [row, view, live],
  );
  const strike = useCallback(
    (note: { readonly string: number; readonly fret: number }) => onPlay?.(note.string, note.fret),
    [onPlay],
  );
  const deeds = useBoardDeeds(grid, view.hand, at, setAt, strike);
  const changes = live === null ? null : sayChanges(view.noteBoard, rows, figure);
  return (
    <div className="note-board">
      <div className="view-controls">
        <Segments
          label="Figure that the ink says"
          value={figure}
          options={figureOptions}
          onChange={setFigure}
        />
        <Tick isSelected={large} onChange={setLarge}>
          Wide enough for a finger
        </Tick>
      </div>
      <div className="board-scroll" ref={frame}>
        {width === 0 ? null : (
          <div className="board-sheet" style={{ width: grid.widthPx, height: grid.heightPx }}>
            <BoardGround grid={grid} rows={rows} hand={view.hand} />
            {/* biome-ignore lint/a11y/useSemanticElements: a table cannot lie askew */}
            <svg
              width={grid.widthPx}
              height={grid.heightPx}
              // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: the drawing is the grid, its notes are the cells
              role="grid"
              aria-label={`Note board: ${grid.strings} strings, ${grid.frets} frets. Arrow keys move from note to note${onPlay === undefined ? "" : ", Enter plays"}.`}
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
        )}
      </div>
      <p className="unseen" role="status">
        {live?.exactness === "settled" ? changes : null}
      </p>
      {words === null ? null : (
        <NoteReadout words={words} {...(onPlay === undefined ? {} : { onPlay: () => strike(at) })} />
      )}
      {changes === null ? null : <p className="board-changes">{changes}</p>}
      <NoteBoardLegend
        figure={figure}
        lanePx={grid.lanePx}
        middle={middleOf(view.noteBoard, figure)}
        validToHz={view.validToHz}
        hasTrace={live !== null}
      />
      <NoteBoardTable rows={rows} view={view} live={live !== null} />
    </div>
  );
}

function useNotes(
  view: NoteBoardViewProps["view"],
  rows: readonly NoteRow[],
  before: readonly NoteRow[] | null,
  figure: NoteFigure,
  grid: BoardGrid,
): ReadonlyMap<string, NoteInk> {
  const kept = useRef(new Map<string, NoteInk>());
  return useMemo(() => {
    const middle = middleOf(view.noteBoard, figure);
    const changes = before === null ? null : noteChanges(before, rows, figure);
    const ink = (value: number) => Math.round(20 * inkShare(value, figure, middle) * grid.lanePx) / 20;
    const made = new Map<string, NoteInk>();
    for (const row of rows) {
      const value = figureOf(row, figure);
      const change = changes?.get(noteKey(row));
      const wide = value === null ? null : ink(value);
      const trace = change === undefined ? null : ink(change.before);
      const note: NoteInk = {
        ink: wide,
        trace: trace !== null && wide !== null && Math.abs(trace - wide) >= 0.5 ? trace : null,
        way: change?.way ?? 0,
        wolf: isWolf(row),
        dead: isDead(row),
        over: (figure === "wolf" && isWolf(row)) || (figure === "dead" && isDead(row)),
        tapers: figure === "decay",
        label: spokenNote(noteWords(row, rangeOf(view, row, before !== null), view.modes), figure),
      };
      const old = kept.current.get(noteKey(row));
      made.set(noteKey(row), old !== undefined && sameInk(old, note) ? old : note);
    }
    kept.current = made;
    return made;
  }, [view, rows, before, figure, grid.lanePx]);
}

function sameInk(a: NoteInk, b: NoteInk): boolean {
  return (Object.keys(a) as (keyof NoteInk)[]).every((name) => a[name] === b[name]);
}

/** Pointer and keys on the whole board: one note is current, and a finger drawn over the board reads along. */
function useBoardDeeds(
  grid: BoardGrid,
  hand: "right" | "left",
  at: { readonly string: number; readonly fret: number },
  setAt: (note: { readonly string: number; readonly fret: number }) => void,
  strike: (note: { readonly string: number; readonly fret: number }) => void,
) {
  const under = (event: PointerEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    return cellAt(grid, [event.clientX - box.left, event.clientY - box.top]);
  };
  const go = (svg: Element, note: { readonly string: number; readonly fret: number }) => {
    setAt(note);
    svg.querySelector<SVGGElement>(`[data-note="${noteKey(note)}"]`)?.focus();
  };
  return {
    onPointerMove(event: PointerEvent<SVGSVGElement>) {
      const cell = under(event);
      if (cell !== null && (cell.string !== at.string || cell.fret !== at.fret))
        setAt({ string: cell.string, fret: cell.fret });
    },
    onPointerUp(event: PointerEvent<SVGSVGElement>) {
      const cell = under(event);
      if (cell === null || event.button !== 0) return;
      const note = { string: cell.string, fret: cell.fret };
      setAt(note);
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
