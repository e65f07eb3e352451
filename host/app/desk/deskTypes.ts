import type { VoiceView } from "#engine/drawings";
import type { NoteBoard } from "#engine/notes";
import type {
  InstrumentSketch,
  LiveChange,
  LoadReport,
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
  readonly board: NoteBoard;
  readonly load: { readonly bridgeRotation: number; readonly saddleRise: number };
  /** "live": the reduced model; "settled": structure's modes solved exactly. */
  readonly exactness: "live" | "settled";
  /** Largest estimated relative error among the modes. */
  readonly error: number;
  /** Why only a full solve will do, in words; empty: the figures hold. */
  readonly needsFullSolve: readonly string[];
}

/** State of the engine at work for the instrument on the bench. */
export interface Desk {
  readonly sketch: Stage<InstrumentSketch>;
  readonly strings: Stage<StringsReport>;
  readonly slots: Stage<SlotsReport>;
  readonly setup: Stage<SetupReport>;
  readonly load: Stage<LoadReport>;
  readonly voice: Stage<VoicePicture>;
  /** Whether the hand's model is ready: until then an edit waits for the full voice. */
  readonly hand: Stage<true>;
  /** null: nothing is under the hand. */
  readonly live: LivePicture | null;
}

export interface DeskDeeds {
  /** Whether the document may be so. Quick: schema, plan and fit, no finite elements. */
  check(text: string): Promise<CheckAnswer>;
  /** Geometry of a document not yet accepted, for drawing while the hand drags. */
  sketchOf(text: string): Promise<InstrumentSketch | null>;
  /** The document in hand changed: light stages are computed at once, the voice and the load when wanted. */
  follow(text: string | null): void;
  /** Begins a stage, or goes on to keep it fresh from now on. */
  want(stage: "voice" | "load"): void;
  cancel(stage: "voice" | "load" | "hand"): void;
  /** The hand moves something: `live` follows, the latest change wins. */
  drag(change: LiveChange): void;
  /** The hand lets go: settled exactly; `live` stays until the next full voice is fresh. */
  release(): void;
}
