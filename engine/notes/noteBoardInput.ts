import type { BoardAnchor } from "./boardAnchor.ts";
import type { BoardString } from "./boardString.ts";
import type { BridgeModes } from "./bridgeModes.ts";
import type { FarEnd } from "./endsSystem.ts";
import type { ReadyBoard } from "./readyNote.ts";

export interface NoteBoardInput {
  readonly strings: readonly BoardString[];
  /** One body as each string sees it, in the order of `strings`. */
  readonly bodies: readonly BridgeModes[];
  /** By string and fret: how nut and frets move with the body. Absent: they do not yield. Not for the quick way. */
  readonly farEnds?: readonly (readonly FarEnd[])[];
  /** Frets 0 to this are computed. */
  readonly frets: number;
  /** Highest frequency for which the body's pressure is foreseen, Hz. */
  readonly validToHz: number;
  /** Highest frequency for which the body's motion at the crown is foreseen, Hz. Default: 0.8 of the highest body mode. */
  readonly decayValidToHz?: number;
  /**
   * Mean mobility of the top along its normal over many modes, m/(s N): what partials above `decayValidToHz` are taken to meet.
   * Absent or null: those carry no decay.
   */
  readonly meanMobility?: number | null;
  /**
   * Several times as fast, for a live edit: the body's distant modes are summed as a polynomial, tones that are not heard are
   * left out. Levels err by less than 0.2 dB, decays by 3 %; the wolf index is the same. Default: false.
   */
  readonly quick?: boolean;
  /** For the quick way: these strings' notes, prepared for the higher of the two ranges; what is prepared for another is not used. */
  readonly ready?: ReadyBoard;
  /** For the quick way: what the exact one adds to it, from a body much like this one. */
  readonly anchor?: BoardAnchor;
  /** Frequency of A4 for the names of the notes, Hz; default 440. */
  readonly a4?: number;
}
