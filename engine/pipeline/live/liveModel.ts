/**
 * Live edits: what is prepared once for a voice, and what a change gives back without refactoring. Plain data throughout,
 * so that a worker can hold the model and answer edits.
 */
import type { PlateRegion } from "#engine/geometry";
import type { BuildBrace } from "#engine/instrument";
import type { BoardAnchor, BoardString, NoteBoard, ReadyBoard } from "#engine/notes";
import type { BodyResponse, Coupling, StructureParts } from "#engine/response";
import type { HeldRib, ReducedModel } from "#engine/shells";

/** A factor on the value of a parameter (`liveParameters`, and the hole). */
export interface LiveFactor {
  readonly parameter: string;
  readonly factor: number;
}

/** A brace laid along another line: its two ends as the document has them (`from`, `to`), before the plate's edge cuts them. */
export interface BraceMove {
  /** Path in the document, "top.braces[2]"; the model must hold it (`holdBrace`). */
  readonly brace: string;
  /** x, y in m, body frame, right-handed. */
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
  /** How far it stops short of an edge that cuts it, m; absent: 0. */
  readonly inset?: number;
}

/** What is not named is nominal. */
export type LiveChange = readonly (LiveFactor | BraceMove)[];

/** By factor on the hole's length and breadth, the middle one 1. */
export interface HoleLaw {
  readonly factors: Float64Array;
  /** kg/m4: of an even flow through the opening with a flat outer end, the cavity's modes at rest included. */
  readonly inertance: Float64Array;
  /** Factor on the viscous resistance. */
  readonly viscous: Float64Array;
}

/** columns x nodes of a plate's mesh: outward motion; empty: there is no such plate. */
export interface PlateLift {
  readonly top: Float64Array;
  readonly back: Float64Array;
}

export interface LiveModel {
  /** By parameter: factors between which it was prepared. */
  readonly limits: readonly { readonly id: string; readonly low: number; readonly high: number }[];
  /** Without its vectors, which an edit does not need. */
  readonly reduced: ReducedModel;
  /** Coupled equations whose structural coordinates are all columns of the reduced model. */
  readonly coupling: Coupling;
  /** What was coupled, its body told by the same columns, without the surface; `pointResidual` is that of the modes alone. */
  readonly parts: StructureParts;
  /** How the plates move by column, for whoever draws an edit's modes. */
  readonly lift: PlateLift;
  /** 2 x columns: turn of the bridge (rad) and rise of the saddle (m) per unit column. */
  readonly figures: Float64Array;
  /** Of the voice itself; and as the reduced model gives them where nothing is changed. */
  readonly load: LiveLoadFigures;
  readonly still: LiveLoadFigures;
  /** null: no hole. */
  readonly hole: HoleLaw | null;
  /** Of the voice itself: only the hole moves it. */
  readonly rigidWallAir: BodyResponse["rigidWallAir"];
  readonly board: {
    /** What an edit's board, with rigid nut and frets, lacks of the voice's. */
    readonly anchor: BoardAnchor;
    readonly strings: readonly BoardString[];
    readonly frets: number;
    readonly a4: number;
    /** What of every note no edit changes. */
    readonly ready: ReadyBoard;
  };
  /** null: no brace is held. */
  readonly held: HeldBrace | null;
}

/** A brace that a hand has taken hold of. */
export interface HeldBrace {
  /** Path in the document. */
  readonly brace: string;
  /** As it lies. */
  readonly build: BuildBrace;
  /** What the plate's edge and holes leave of a line. */
  readonly region: PlateRegion;
  /** m: how far each of its points may be moved. */
  readonly reach: number;
  readonly rib: HeldRib;
}

export interface LiveLoadFigures {
  /** Of the bridge's footprint, rad, positive toward the nut. */
  readonly bridgeRotation: number;
  /** Outward motion of the top under the middle of the saddle, m. */
  readonly saddleRise: number;
}

export interface LiveResult {
  /** In vacuo, Hz, ascending: the structure alone without its strings. */
  readonly structureHz: Float64Array;
  /** Relative error of each of these, estimated. */
  readonly errorEstimate: Float64Array;
  readonly response: BodyResponse;
  readonly board: NoteBoard;
  readonly load: LiveLoadFigures;
  /** Why a full solve is asked for, in words; empty: it is not. */
  readonly needsFullSolve: readonly string[];
}
