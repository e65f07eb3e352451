import type { BoardLayout, Point, Polygon, Polyline } from "#engine/geometry";
import type { PlanMesh } from "#engine/meshing";
import type { NoteRow } from "#engine/notes";
import type { ResponseCurve } from "#engine/response";
import type { Knowledge, Verdict } from "#engine/verdicts";

/**
 * Everything the voice report draws, as plain data: the caller gathers it from the modules below. SI (m, s, N, Pa, Hz)
 * in the body frame of docs/conventions.md: origin at the tail, x towards the neck, y towards the bass side of a
 * right-handed guitar; a left-handed plan arrives already mirrored.
 */
export interface VoiceView {
  readonly title: string;
  /** What the sheet says under the title: tuning, woods. One short line. */
  readonly subtitle: string;
  readonly hand: "right" | "left";
  /** How well the wood is known: sets the ranges that are printed. */
  readonly knowledge: Knowledge;
  /** Frequency of A4, Hz, by which notes are named; 440 (ISO 16) if not given. */
  readonly a4?: number;
  readonly plan: PlanView;
  readonly board: BoardView;
  readonly plates: { readonly top: PlateMesh; readonly back: PlateMesh };
  /** Ascending in frequency, in the order that `blame.modeIndex` of the note board counts. */
  readonly modes: readonly ModeView[];
  readonly response: ResponseCurve;
  readonly noteBoard: readonly NoteRow[];
  /** Hz: levels of pressure are foreseen up to here. */
  readonly validToHz: number;
  /** Hz: body modes are foreseen up to here. */
  readonly modesToHz: number;
  readonly levelSpreadDb: number | null;
  /** What the spread of wood and model does to each figure; null: not computed, then the model's own accuracy is printed. */
  readonly ranges: RangesView | null;
  readonly upperThirdShare: number | null;
  /** What the strings' further tunings do to wolf notes and evenness, one sentence each; absent: there are none. */
  readonly otherTunings?: readonly string[];
  readonly load: LoadView;
  readonly verdicts: readonly Verdict[];
  /** What the model does not promise, one sentence each. */
  readonly limits: readonly string[];
  readonly stamp: Stamp;
}

/** One sigma of each figure, spread of the uncertain values and the model's own error together, in the figure's unit. */
export interface RangesView {
  /** By mode, in the order of `modes`. */
  readonly modes: readonly ({ readonly frequencyHz: number; readonly q: number } | null)[];
  /** By row of the note board. */
  readonly notes: readonly {
    readonly levelDb: number | null;
    readonly decayS: number | null;
    readonly wolfIndex: number | null;
  }[];
  /** What to measure, most telling first, one sentence each. */
  readonly worth: readonly string[];
  readonly samples: number;
}

export interface PlanView {
  /** Edge of the body. */
  readonly outline: Polygon;
  /** The hole's whole edge, also where it lies outside the body. */
  readonly hole: Polygon;
  /** Stretches of the body's edge that the hole takes away. */
  readonly openEdge: readonly Polyline[];
  readonly braces: readonly BraceView[];
  readonly bridge: Polygon;
  readonly bridgePlate: Polygon | null;
  /** Hub and other patches glued inside the top. */
  readonly patches: readonly Polygon[];
  /** Ends of the saddle's line. */
  readonly saddle: readonly [bass: Point, treble: Point];
}

export interface BraceView {
  readonly name: string;
  readonly plate: "top" | "back";
  /** Inside the body. */
  readonly path: Polyline;
  readonly width: number;
  /** Greatest height of the profile. */
  readonly height: number;
}

/** The layout of the fingerboard, placed in the body frame. */
export type BoardView = Pick<BoardLayout, "strings" | "slots" | "nutLine" | "bassEdge" | "trebleEdge">;

export type PlateMesh = Pick<PlanMesh, "nodes" | "triangles">;

export interface ModeView {
  readonly frequencyHz: number;
  readonly q: number;
  /** kg; null if the saddle hardly moves. */
  readonly effectiveMassKg: number | null;
  readonly name: string | null;
  /** Outward motion by node of the top's mesh and of the back's, one scale for both; null: not drawn. */
  readonly topMotion: Float64Array | null;
  readonly backMotion: Float64Array | null;
}

export interface LoadView {
  readonly strings: readonly {
    readonly string: number;
    readonly note: string;
    readonly tensionN: number;
    readonly linearDensityKgPerM: number;
    readonly breakMargin: number;
  }[];
  readonly totalN: number;
  /** rad, positive toward the nut; null if not computed. */
  readonly bridgeRotation: number | null;
  /** m, positive outward. */
  readonly saddleRise: number;
}

export interface Stamp {
  readonly engineVersion: string;
  readonly inputHash: string;
  readonly settingsHash: string;
}
