import { useMemo, useState } from "react";
import type { VoicePicture } from "../desk/deskTypes.ts";
import { Button, Segments } from "../kit/index.ts";
import { type BoardGrid, boardGrid } from "./boardGrid.ts";
import { differenceInks } from "./compareNotes.ts";
import { figureOptions } from "./figureOptions.ts";
import { NoteBoardLegend } from "./NoteBoardLegend.tsx";
import { NoteGrid, type NotePlace } from "./NoteGrid.tsx";
import { inkLane, middleOf, sayChanges } from "./noteInk.ts";
import { type NoteWords, noteWords, rangeOf } from "./noteWords.ts";
import { useNotes } from "./useNotes.ts";
import { useWidth } from "./useWidth.ts";
import type { CompareSide, CompareViewProps, NoteFigure } from "./viewTypes.ts";
import "./noteBoard.css";

/** Two note boards to one measure of ink, and their difference on A's fingerboard; one note is current on all three. */
export function CompareBoards({ a, b, onPlay }: CompareViewProps) {
  const [figure, setFigure] = useState<NoteFigure>("level");
  const [at, setAt] = useState<NotePlace>({ string: 1, fret: 0 });
  const [frame, width] = useWidth<HTMLDivElement>();
  const [va, vb] = [a.voice, b.voice];
  if (va === null || vb === null) return null;
  const middle = middleOf(va.view.noteBoard, figure);
  const shared = { figure, middle, width, at, onMove: setAt };
  return (
    <div className="note-board compare-boards" ref={frame}>
      <div className="view-controls">
        <Segments
          label="Figure that the ink says"
          value={figure}
          options={figureOptions}
          onChange={setFigure}
        />
      </div>
      {width === 0 ? null : (
        <>
          <OneBoard
            {...shared}
            name={`A: ${a.name}`}
            voice={va}
            {...(onPlay === undefined ? {} : { onPlay: (s: number, f: number) => onPlay("a", s, f) })}
          />
          <OneBoard
            {...shared}
            name={`B: ${b.name}`}
            voice={vb}
            {...(onPlay === undefined ? {} : { onPlay: (s: number, f: number) => onPlay("b", s, f) })}
          />
          <DifferenceBoard {...shared} a={va} b={vb} />
        </>
      )}
      <BothNotes a={a} b={b} at={at} {...(onPlay === undefined ? {} : { onPlay })} />
      <p className="board-changes">
        From A to B: {lowered(sayChanges(va.view.noteBoard, vb.view.noteBoard, figure))}
      </p>
      <NoteBoardLegend
        figure={figure}
        lanePx={16}
        middle={middle}
        validToHz={Math.min(va.view.validToHz, vb.view.validToHz)}
        hasTrace={false}
      />
    </div>
  );
}

interface Shared {
  readonly figure: NoteFigure;
  readonly middle: number;
  readonly width: number;
  readonly at: NotePlace;
  readonly onMove: (note: NotePlace) => void;
}

function useGrid({ view }: VoicePicture, width: number): BoardGrid {
  return useMemo(() => boardGrid(view.board, view.hand, Math.max(320, width)), [view, width]);
}

function OneBoard({
  voice,
  name,
  onPlay,
  figure,
  middle,
  width,
  at,
  onMove,
}: Shared & {
  readonly voice: VoicePicture;
  readonly name: string;
  readonly onPlay?: (string: number, fret: number) => void;
}) {
  const { view } = voice;
  const grid = useGrid(voice, width);
  const notes = useNotes(view, view.noteBoard, null, figure, inkLane(grid.lanePx), middle, view.modes);
  return (
    <div>
      <h4>{name}</h4>
      <div className="board-scroll">
        <NoteGrid
          grid={grid}
          hand={view.hand}
          rows={view.noteBoard}
          notes={notes}
          at={at}
          onMove={onMove}
          name={name}
          {...(onPlay === undefined ? {} : { onPlay })}
        />
      </div>
    </div>
  );
}

function DifferenceBoard({
  a,
  b,
  figure,
  width,
  at,
  onMove,
}: Shared & { readonly a: VoicePicture; readonly b: VoicePicture }) {
  const grid = useGrid(a, width);
  const notes = useMemo(
    () => differenceInks(a.view.noteBoard, b.view.noteBoard, figure, inkLane(grid.lanePx)),
    [a, b, figure, grid.lanePx],
  );
  return (
    <div>
      <h4>B less A: full where B has more, an outline where it has less</h4>
      <div className="board-scroll">
        <NoteGrid
          grid={grid}
          hand={a.view.hand}
          rows={a.view.noteBoard}
          notes={notes}
          at={at}
          onMove={onMove}
          name="B less A"
        />
      </div>
    </div>
  );
}

/** The current note on both. */
function BothNotes({
  a,
  b,
  at,
  onPlay,
}: Pick<CompareViewProps, "a" | "b" | "onPlay"> & { readonly at: NotePlace }) {
  const [wa, wb] = [wordsAt(a, at), wordsAt(b, at)];
  if (wa === null) return null;
  const lines: readonly (readonly [string, string, string])[] = [
    ["Level at 1 m", wa.level, wb?.level ?? ""],
    ["Decay (60 dB)", wa.decay, wb?.decay ?? ""],
    ["Wolf index", wa.wolf, wb?.wolf ?? ""],
    ["Dead index", wa.dead, wb?.dead ?? ""],
  ];
  return (
    <div className="note-readout both">
      <div className="readout-name">
        <strong>{wa.note}</strong>
        <span>
          {wa.place}
          <br />
          <span className="soft">
            {wb === null ? "not on B" : wb.note === wa.note ? wa.pitch : `on B ${wb.note}`}
          </span>
        </span>
        {onPlay === undefined ? null : (
          <>
            <Button sign="play" onPress={() => onPlay("a", at.string, at.fret)}>
              A
            </Button>
            <Button sign="play" onPress={() => onPlay("b", at.string, at.fret)}>
              B
            </Button>
          </>
        )}
      </div>
      <dl>
        {lines.map(([term, of, other]) => (
          <div key={term}>
            <dt>{term}</dt>
            <dd>A {of}</dd>
            <dd>B {other}</dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

function wordsAt({ voice }: CompareSide, at: NotePlace): NoteWords | null {
  const row = voice?.view.noteBoard.find((r) => r.string === at.string && r.fret === at.fret);
  return voice === null || row === undefined
    ? null
    : noteWords(row, rangeOf(voice.view, row, false), voice.view.modes);
}

function lowered(sentence: string): string {
  return `${sentence.charAt(0).toLowerCase()}${sentence.slice(1)}`;
}
