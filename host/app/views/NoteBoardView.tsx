import { useMemo, useState } from "react";
import type { LivePicture } from "../desk/deskTypes.ts";
import { Segments, Tick } from "../kit/index.ts";
import { boardGrid } from "./boardGrid.ts";
import { figureOptions } from "./figureOptions.ts";
import { NoteBoardLegend } from "./NoteBoardLegend.tsx";
import { NoteBoardTable } from "./NoteBoardTable.tsx";
import { NoteGrid } from "./NoteGrid.tsx";
import { NoteReadout } from "./NoteReadout.tsx";
import { inkLane, middleOf, sayChanges } from "./noteInk.ts";
import { noteWords, rangeOf } from "./noteWords.ts";
import { useNotes } from "./useNotes.ts";
import { useWidth } from "./useWidth.ts";
import type { NoteBoardViewProps, NoteFigure } from "./viewTypes.ts";
import "./noteBoard.css";

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
  const rows = live?.board.noteBoard ?? view.noteBoard;
  const grid = useMemo(
    () => boardGrid(view.board, view.hand, Math.max(320, width), undefined, large ? fingerPx : 0),
    [view.board, view.hand, width, large],
  );
  const middle = middleOf(view.noteBoard, figure);
  // a note's blame counts the modes of its own board
  const modes = live?.modes ?? view.modes;
  const before = live === null ? null : view.noteBoard;
  const notes = useNotes(view, rows, before, figure, inkLane(grid.lanePx), middle, modes);
  const row = rows.find((r) => r.string === at.string && r.fret === at.fret);
  const words = useMemo(
    () => (row === undefined ? null : noteWords(row, rangeOf(view, row, live !== null), modes)),
    [row, view, live, modes],
  );
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
          <NoteGrid
            grid={grid}
            hand={view.hand}
            rows={rows}
            notes={notes}
            at={at}
            onMove={setAt}
            {...(onPlay === undefined ? {} : { onPlay })}
          />
        )}
      </div>
      <p className="unseen" role="status">
        {live?.exactness === "settled" ? changes : null}
      </p>
      {words === null ? null : (
        <NoteReadout
          words={words}
          {...(onPlay === undefined ? {} : { onPlay: () => onPlay(at.string, at.fret) })}
        />
      )}
      {live === null ? null : (
        <p className="board-changes">
          {changes} <span className="soft">{sayStanding(live)}</span>
        </p>
      )}
      <NoteBoardLegend
        figure={figure}
        lanePx={inkLane(grid.lanePx)}
        middle={middle}
        validToHz={view.validToHz}
        hasTrace={live !== null}
      />
      <NoteBoardTable rows={rows} view={view} live={live} />
    </div>
  );
}

/** How far the figures under the hand are to be trusted. */
function sayStanding({ exactness, error, needsFullSolve }: LivePicture): string {
  const model =
    exactness === "settled"
      ? "Settled: the structure solved anew."
      : `Under the hand: modes within about ${(100 * Math.max(error, 0.001)).toFixed(1)} % of the full solve.`;
  return [model, ...needsFullSolve].join(" ");
}
