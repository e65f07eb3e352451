import type { StringDesign } from "#engine/strings";

/** One string of the board. */
export interface BoardString {
  /** 1 is the highest. */
  readonly string: number;
  /** Open string, Hz, tempered. */
  readonly frequency: number;
  readonly design: StringDesign;
  /** Nut to crown along the string, m. */
  readonly scaleLength: number;
  /** Nut to fret along the string, m; index 0 is the nut. */
  readonly fretDistance: Float64Array;
}
