import { memo } from "react";
import type { GridCell, Pixel } from "./boardGrid.ts";

/** One note as the board draws it. Plain values, so that a note that did not change is not drawn again. */
export interface NoteInk {
  /** Thickness of the ink, px; null: not foreseen. */
  readonly ink: number | null;
  /** The same of the last full voice, where the hand has changed it. */
  readonly trace: number | null;
  readonly way: -1 | 0 | 1;
  readonly wolf: boolean;
  readonly dead: boolean;
  /** Over the limit of the figure that is drawn. */
  readonly over: boolean;
  /** The ink thins out along the note: a decay. */
  readonly tapers: boolean;
  /** Drawn as an outline: what a difference takes away. */
  readonly hollow?: boolean;
  readonly label: string;
}

export const NoteCell = memo(function NoteCell({
  cell,
  note,
  lanePx,
  current,
  hatch,
}: {
  readonly cell: GridCell;
  readonly note: NoteInk;
  readonly lanePx: number;
  readonly current: boolean;
  /** Id of the pattern for what is not foreseen. */
  readonly hatch: string;
}) {
  const [a, b] = cell.path;
  const at = (share: number): Pixel => [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  const both = note.wolf && note.dead;
  const size = Math.max(5.5, Math.min(13, 0.3 * lanePx));
  return (
    // biome-ignore lint/a11y/useSemanticElements: a cell of a drawing; a table cell cannot lie askew
    <g
      role="gridcell"
      tabIndex={current ? 0 : -1}
      aria-label={note.label}
      data-note={`${cell.string}/${cell.fret}`}
      className="note-cell"
    >
      <path className="note-room" d={closed(cell.corners)} />
      {note.ink === null ? (
        <>
          <path d={closed(cell.corners)} fill={`url(#${hatch})`} />
          <path className="note-still" d={open(cell.path)} />
        </>
      ) : (
        <NoteBar
          path={cell.path}
          ink={note.ink}
          trace={note.trace}
          tapers={note.tapers}
          over={note.over}
          hollow={note.hollow ?? false}
        />
      )}
      {note.way === 0 ? null : <Step at={at(0.14)} way={note.way} size={size} />}
      {note.wolf ? <WolfMark at={at(both ? 0.38 : 0.5)} size={size} /> : null}
      {note.dead ? <DeadMark at={at(both ? 0.74 : 0.5)} size={size} /> : null}
      <path className="note-focus" d={closed(inset(cell.corners, 1.5))} />
    </g>
  );
});

/** The ink of a note. What the hand took away stands as a pale bar behind it; what was there before it grew, as a pale core. */
export function NoteBar({
  path,
  ink,
  trace,
  tapers,
  over,
  hollow = false,
}: Pick<NoteInk, "trace" | "tapers" | "over" | "hollow"> & {
  readonly path: readonly [Pixel, Pixel];
  readonly ink: number;
}) {
  const before =
    trace === null ? null : (
      <path className={trace > ink ? "note-lost" : "note-core"} d={bar(path, trace, tapers)} />
    );
  return (
    <>
      {trace !== null && trace > ink ? before : null}
      <path className={hollow ? "note-hollow" : over ? "note-over" : "note-ink"} d={bar(path, ink, tapers)} />
      {trace !== null && trace < ink ? before : null}
    </>
  );
}

/** A ring with a zigzag in it: the note may howl. */
export function WolfMark({ at: [x, y], size }: { readonly at: Pixel; readonly size: number }) {
  const r = size;
  const zigzag = [-0.63, -0.32, 0, 0.32, 0.63]
    .map((u, i) => `${i === 0 ? "M" : "L"}${px(x + u * r)} ${px(y + (i % 2 === 0 ? 0.26 : -0.34) * r)}`)
    .join("");
  return (
    <g className="wolf-mark">
      <circle cx={px(x)} cy={px(y)} r={px(r)} />
      <path d={zigzag} />
    </g>
  );
}

/** A cross: the note dies early. */
export function DeadMark({ at: [x, y], size }: { readonly at: Pixel; readonly size: number }) {
  const r = 0.72 * size;
  const cross = `M${px(x - r)} ${px(y - r)}L${px(x + r)} ${px(y + r)}M${px(x - r)} ${px(y + r)}L${px(x + r)} ${px(y - r)}`;
  return (
    <g className="dead-mark">
      <path className="under" d={cross} />
      <path d={cross} />
    </g>
  );
}

/** A wedge that points up where the figure rose under the hand, down where it fell; the falling one is hollow. */
export function Step({
  at: [x, y],
  way,
  size,
}: {
  readonly at: Pixel;
  readonly way: -1 | 1;
  readonly size: number;
}) {
  const [w, h] = [0.5 * size, 0.75 * size];
  return (
    <path
      className={way > 0 ? "step up" : "step down"}
      d={`M${px(x - w)} ${px(y + (way * h) / 2)}L${px(x)} ${px(y - (way * h) / 2)}L${px(x + w)} ${px(y + (way * h) / 2)}Z`}
    />
  );
}

/** A bar along a stretch of string; a decay is full where the string is stopped and thins out toward the bridge. */
export function bar([a, b]: readonly [Pixel, Pixel], width: number, tapers: boolean): string {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [nx, ny] = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
  const [w, e] = [width / 2, tapers ? width / 9 : width / 2];
  return closed([
    [a[0] + nx * w, a[1] + ny * w],
    [b[0] + nx * e, b[1] + ny * e],
    [b[0] - nx * e, b[1] - ny * e],
    [a[0] - nx * w, a[1] - ny * w],
  ]);
}

function inset(corners: readonly Pixel[], by: number): readonly Pixel[] {
  const [cx, cy] = [0, 1].map((k) => corners.reduce((sum, c) => sum + c[k as 0 | 1], 0) / corners.length);
  const toward = (v: number, centre: number) => v + Math.sign(centre - v) * by;
  return corners.map(([x, y]): Pixel => [toward(x, cx!), toward(y, cy!)]);
}

export function closed(points: readonly Pixel[]): string {
  return `${open(points)}Z`;
}

export function open(points: readonly Pixel[]): string {
  return points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${px(x)} ${px(y)}`).join("");
}

/** To a tenth of a pixel. */
function px(value: number): number {
  return Math.round(10 * value) / 10;
}
