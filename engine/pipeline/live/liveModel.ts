/**
 * Live edits: what is prepared once for a voice, and what a change gives back without refactoring. Plain data throughout,
 * so that a worker can hold the model and answer edits.
 */
import type { BoardString, NoteBoard } from "#engine/notes";
import type { BodyResponse, StructureParts } from "#engine/response";
import type { ReducedModel } from "#engine/shells";

/**
 * A value the hand may move, as a factor on its nominal value. Its id is its path in the document:
 * "top.braces[3].height", "top.braces[3].width", "top.thickness", "top.wood.stiffnessAlong", "bridge.thickness",
 * "bridge.mass", "soundHole.size".
 */
export interface LiveParameter {
  readonly id: string;
  /** Factors between which the prepared model was made; beyond them `needsFullSolve` is set. */
  readonly low: number;
  readonly high: number;
}

/** Factors by parameter id; what is not named is nominal. */
export type LiveChange = readonly { readonly parameter: string; readonly factor: number }[];

export interface LiveModel {
  readonly parameters: readonly LiveParameter[];
  readonly reduced: ReducedModel;
  /** The nominal parts of the coupling, and those of the basis: its coordinates are the columns of the reduced model. */
  readonly nominal: StructureParts;
  readonly basis: StructureParts;
  readonly board: { readonly strings: readonly BoardString[]; readonly frets: number; readonly a4: number };
  /** Columns x loads: work of the string load on each column; and what reads the load figures off the answer. */
  readonly loads: Float64Array;
  readonly figures: Float64Array;
}

export interface LiveLoadFigures {
  /** Of the bridge's footprint, rad, positive toward the nut. */
  readonly bridgeRotation: number;
  /** Outward motion of the top under the middle of the saddle, m. */
  readonly saddleRise: number;
}

export interface LiveResult {
  /** In vacuo, Hz, ascending (the structure alone). */
  readonly structureHz: Float64Array;
  /** Relative error of each of these, estimated. */
  readonly errorEstimate: Float64Array;
  readonly response: BodyResponse;
  readonly board: NoteBoard;
  readonly load: LiveLoadFigures;
  /** Why a full solve is asked for; empty: not asked for. */
  readonly needsFullSolve: readonly string[];
}
