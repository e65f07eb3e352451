import type { VoiceView } from "#engine/drawings";
import type { NoteBoard, NotePluck, NoteTones } from "#engine/notes";
import type {
  InstrumentSketch,
  LiveChange,
  LoadReport,
  NeckReport,
  PieceKind,
  RenderedPiece,
  SetupReport,
  SlotsReport,
  StringsReport,
} from "#engine/pipeline";
import type { Verdict } from "#engine/verdicts";
import type { RefusedPlace } from "#host/api";

/** How far a computation of the document in hand has come. A value stays readable while a newer one is under way. */
export interface Stage<T> {
  readonly status: "none" | "waiting" | "working" | "ready" | "failed" | "cancelled";
  /** Newest value there is; null: none yet. */
  readonly value: T | null;
  /** Whether `value` belongs to the document in hand; false: to an earlier state of it. */
  readonly fresh: boolean;
  /** 0 to 1, and what is being done, while working. */
  readonly fraction: number;
  readonly words: string;
  /** Why it failed. */
  readonly fault: string | null;
}

export type CheckAnswer =
  | { readonly ok: true; readonly watch: readonly RefusedPlace[] }
  | { readonly ok: false; readonly issues: readonly RefusedPlace[] };

/** What the page shows of a computed voice. Plain data. */
export interface VoicePicture {
  readonly view: VoiceView;
  readonly verdicts: readonly Verdict[];
  readonly board: NoteBoard;
}

/** A live edit under the hand. */
export interface LivePicture {
  readonly change: LiveChange;
  readonly modes: readonly {
    readonly frequencyHz: number;
    readonly q: number;
    readonly name: string | null;
  }[];
  /** Without the partials of its notes. */
  readonly board: NoteBoard;
  readonly load: { readonly bridgeRotation: number; readonly saddleRise: number };
  /** Motion of the lowest modes on the plates' meshes of the voice, brought up to date when the hand pauses or lets go; null: not known yet. */
  readonly shapes: LiveShapes | null;
  /** "live": the reduced model; "settled": structure's modes solved exactly. */
  readonly exactness: "live" | "settled";
  /** Largest estimated relative error among the modes. */
  readonly error: number;
  /** Why only a full solve will do, in words; empty: the figures hold. */
  readonly needsFullSolve: readonly string[];
}

/** Outward motion by mode and node, modes x nodes of `view.plates` of the voice, one scale for both plates of a mode. */
export interface LiveShapes {
  readonly count: number;
  readonly top: Float32Array;
  readonly back: Float32Array;
}

/** A figure that levers are held against. */
export type LeverFigure =
  | "mainAirHz"
  | "mainTopHz"
  | "mainBackHz"
  | "wolfNotes"
  | "worstWolf"
  | "levelSpreadDb"
  | "bridgeRotationDeg";

/** What a step that a hand can make does to the figures of the verdicts. */
export interface Lever {
  /** Place in the document, "top.braces[2].height"; "soundHole.size": length and breadth of the hole together. */
  readonly path: string;
  /** "height of ray 3". */
  readonly words: string;
  /** Factor on the value, and the step in shop words: "0.5 mm less". */
  readonly factor: number;
  readonly step: string;
  readonly effects: readonly LeverEffect[];
  /** What the figures hold for: the estimated error of the reduced model, relative in frequency. */
  readonly error: number;
  readonly needsFullSolve: readonly string[];
}

export interface LeverEffect {
  readonly figure: LeverFigure;
  /** null: there is no such mode, or no level. */
  readonly before: number | null;
  readonly after: number | null;
  /** Size of the change over what a maker would notice of it (`leverScales`); 0: nothing, 1: just. */
  readonly strength: number;
}

/** Whose sound: the voice of the document in hand, the edit under the hand, or the other one of a comparison. */
export type Sounding = "voice" | "live" | "beside";

export interface NoteAsked {
  readonly of: Sounding;
  /** 1 is the highest. */
  readonly string: number;
  readonly fret: number;
  /** Absent: as the note board does. */
  readonly pluck?: NotePluck;
  /** Name of one of the document's tunings; absent: the set's own. */
  readonly tuning?: string;
}

export interface PieceAsked {
  readonly of: Sounding;
  readonly piece: PieceKind;
  readonly pluck?: NotePluck;
  readonly tuning?: string;
  /** Samples a second; absent: the renderer's own. */
  readonly rate?: number;
}

/** A picture of a report as one document: full of drawings, for a frame, for print. */
export type SheetKind = "voice" | "load" | "slots" | "setup";

/** State of the engine at work for the instrument on the bench. */
export interface Desk {
  /** The document in hand; null: none. */
  readonly text: string | null;
  /** What the check finds worth a look in it. */
  readonly remarks: Stage<readonly RefusedPlace[]>;
  readonly sketch: Stage<InstrumentSketch>;
  readonly strings: Stage<StringsReport>;
  readonly slots: Stage<SlotsReport>;
  readonly setup: Stage<SetupReport>;
  /** The neck under its strings. */
  readonly neck: Stage<NeckReport>;
  readonly load: Stage<LoadReport>;
  readonly voice: Stage<VoicePicture>;
  /** The other voice of a comparison (`compare`): another revision, or another instrument. */
  readonly beside: Stage<VoicePicture>;
  /** Whether the hand's model is ready: until then an edit waits for the full voice. */
  readonly hand: Stage<true>;
  /** Places in the document whose values the hand's model moves now ("top.braces[2].height"), and braces that it can lay elsewhere. */
  readonly movable: readonly string[];
  /** null: nothing is under the hand. */
  readonly live: LivePicture | null;
}

/** Where the desk's state is kept. */
export interface DeskStore {
  get(): Desk;
  set(change: Partial<Desk>): void;
}

export interface DeskDeeds {
  /** Whether the document may be so. Quick: schema, plan and fit, no finite elements. */
  check(text: string): Promise<CheckAnswer>;
  /** Geometry of a document not yet accepted, for drawing while the hand drags; null: it may not be so, or a later one was asked for. */
  sketchOf(text: string): Promise<InstrumentSketch | null>;
  /** Hires who checks and draws ahead of the first wish: their file is on its way while the page is built. */
  prepare(): void;
  /** The document in hand changed: light stages are computed at once, the voice and the load when wanted. */
  follow(text: string | null): void;
  /** Begins a stage, or goes on to keep it fresh from now on. */
  want(stage: "voice" | "load" | "hand"): void;
  cancel(stage: "voice" | "load" | "hand" | "beside"): void;
  /** The hand takes hold of a value ("top.braces[2].height") or of a whole brace ("top.braces[2]"): what it needs is made ready first. */
  hold(path: string): void;
  /** The hand moves something: `live` follows, the latest change wins. */
  drag(change: LiveChange): void;
  /** The hand lets go: settled exactly; `live` stays until the next full voice is fresh. */
  release(): void;
  /** Somebody looks at the motion of the modes: the hand's answers bring it along until the answer of this is called. */
  watchShapes(): () => void;
  /** Nothing was meant: `live` is dropped. */
  letBe(): void;
  /** The voice of another text as `beside`; null: no comparison any more. */
  compare(text: string | null): void;
  /** The voice of any text, from the cache where it is known; null: the document may not be so, or it failed. */
  voiceOf(text: string): Promise<VoicePicture | null>;
  /** What would change it: steps of every value the hand's model moves, strongest first. Has the model made if it is not; empty: there is no fresh voice, or it was cancelled. */
  levers(told?: (fraction: number) => void): Promise<readonly Lever[]>;
  /** One note as damped tones; null: that voice is not there, or the note is not foreseen. */
  tonesOf(asked: NoteAsked): Promise<NoteTones | null>;
  /** One note rung out, or a piece: pressure at 1 m, rendered in a worker. null: as `tonesOf`. */
  soundOf(asked: NoteAsked | PieceAsked): Promise<RenderedPiece | null>;
  /** A whole report to read or to print, as an HTML document; null: it is not computed. */
  sheet(kind: SheetKind): Promise<string | null>;
}
