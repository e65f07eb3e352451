/** How much fret lies outside the outer strings. */
import type { BoardLayout, BoardLine, StringPath } from "./boardLayout.ts";

/** By fret (index 0: the nut line to the board's edge), along the slot, m; below 0 the string runs beside the fret. */
export interface EdgeMargins {
  readonly bass: Float64Array;
  readonly treble: Float64Array;
}

/** From the outer strings' centres to the ends of the frets; `overhang` is how far a fret ends past the board's edge. */
export function edgeMargins(layout: BoardLayout, overhang: number): EdgeMargins {
  const lines: readonly BoardLine[] = [layout.nutLine, ...layout.slots];
  const outside = (path: StringPath, end: "bass" | "treble"): Float64Array =>
    Float64Array.from(lines, (line, fret) => {
      const t = path.fretDistance[fret] / path.scaleLength;
      const [x, y] = [0, 1].map((i) => path.nut[i] + t * (path.saddle[i] - path.nut[i]));
      const other = end === "bass" ? "treble" : "bass";
      const [ux, uy] = [line[end][0] - line[other][0], line[end][1] - line[other][1]];
      const along = ((line[end][0] - x) * ux + (line[end][1] - y) * uy) / Math.hypot(ux, uy);
      return along + (fret === 0 ? 0 : overhang);
    });
  return {
    bass: outside(layout.strings[layout.strings.length - 1], "bass"),
    treble: outside(layout.strings[0], "treble"),
  };
}
