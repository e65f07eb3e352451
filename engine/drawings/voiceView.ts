import type { Knowledge, Verdict } from "#engine/verdicts";

/**
 * Everything the voice report draws, as plain data: the caller gathers it from the modules below. SI (m, s, N, Pa, Hz)
 * in the body frame of docs/conventions.md: origin at the tail, x towards the neck, y towards the bass side of a
 * right-handed guitar; a left-handed plan arrives already mirrored. Polygons and polylines are x0, y0, x1, y1, ...
 */
export interface VoiceView {
  readonly title: string;
  /** What the sheet says under the title: tuning, woods, hand. One short line. */
  readonly subtitle: string;
  readonly hand: "right" | "left";
  /** How well the wood is known: sets the ranges that are printed. */
  readonly knowledge: Knowledge;
  readonly plan: PlanView;
  readonly board: BoardView;
  readonly plates: { readonly top: PlateMesh; readonly back: PlateMesh };
  /** Ascending in frequency. */
  readonly modes: readonly ModeView[];
  readonly response: ResponseView;
  /** Rows as in the JSON contract of `voice`, any order. */
  readonly noteBoard: readonly NoteRow[];
  /** Highest frequency (Hz) at which a level is foreseen. */
  readonly validToHz: number;
  readonly levelSpreadDb: number | null;
  readonly upperThirdShare: number | null;
  readonly load: LoadView;
  readonly verdicts: readonly Verdict[];
  /** What the model does not promise, one sentence each. */
  readonly limits: readonly string[];
  readonly stamp: Stamp;
}

export interface PlanView {
  readonly outline: Float64Array;
  /** The hole's whole edge, also where it lies outside the body. */
  readonly hole: Float64Array;
  /** Stretches of the body's edge that the hole takes away. */
  readonly openEdge: readonly Float64Array[];
  readonly braces: readonly BraceView[];
  readonly bridge: Float64Array;
  /** Ends of the saddle's line, bass side first. */
  readonly saddle: readonly [bass: readonly [number, number], treble: readonly [number, number]];
}

export interface BraceView {
  readonly name: string;
  readonly plate: "top" | "back";
  /** Inside the body. */
  readonly path: Float64Array;
  readonly width: number;
  /** Greatest height of the profile. */
  readonly height: number;
}

/** The fingerboard in the body frame. */
export interface BoardView {
  /** Four corners or more. */
  readonly outline: Float64Array;
  readonly strings: readonly {
    readonly string: number;
    readonly openNote: string;
    readonly nut: readonly [number, number];
    readonly saddle: readonly [number, number];
    readonly scaleLength: number;
  }[];
  /** Fret 0 is the nut; ascending. */
  readonly slots: readonly {
    readonly fret: number;
    readonly bass: readonly [number, number];
    readonly treble: readonly [number, number];
  }[];
}

export interface PlateMesh {
  /** x, y by node. */
  readonly nodes: Float64Array;
  /** Three by face. */
  readonly triangles: Uint32Array;
}

export interface ModeView {
  readonly frequencyHz: number;
  readonly q: number;
  /** kg; null if the saddle hardly moves. */
  readonly effectiveMassKg: number | null;
  readonly name: string | null;
  /** Outward motion by node of the top's mesh and of the back's; any common scale and sign. Absent: not drawn. */
  readonly topShape?: Float64Array;
  readonly backShape?: Float64Array;
}

/** Curves over frequency, ascending, all of one length. */
export interface ResponseView {
  readonly frequency: Float64Array;
  /** |velocity / force| at the saddle's midpoint crown along the top's normal, m/s per N. */
  readonly mobility: Float64Array;
  /** |pressure| at 1 m for 1 N rms there, Pa rms. */
  readonly pressure: Float64Array;
}

export interface NoteRow {
  readonly string: number;
  readonly fret: number;
  readonly note: string;
  readonly frequencyHz: number;
  readonly levelDb: number | null;
  readonly decayS: number | null;
  readonly wolfIndex: number | null;
  readonly deadIndex: number | null;
  readonly verdict?: string | null;
  readonly blame: { readonly modeIndex: number; readonly partial: number; readonly centsOff: number } | null;
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
}

export interface Stamp {
  readonly engineVersion: string;
  readonly inputHash: string;
  readonly settingsHash: string;
}
