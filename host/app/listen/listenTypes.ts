import type { PieceKind } from "#engine/pipeline";
import type { Sounding } from "../desk/deskTypes.ts";

/** What is played: a note of the board, or a piece; in the set's own tuning where none is named. */
export type Asked = (
  | { readonly kind: "note"; readonly string: number; readonly fret: number }
  | { readonly kind: PieceKind }
) & { readonly tuning: string | null };

/** What is played as the second of a comparison. */
export type Beside = Exclude<Sounding, "voice">;

/** The one of a comparison that is let through to the ears. */
export type Side = "a" | "b";

/** What was rendered, of one side. */
export interface HeardSide {
  readonly of: Sounding;
  /** Pa at 1 m. */
  readonly samples: Float32Array<ArrayBuffer>;
  /** Notes of the piece that are not foreseen, and silent. */
  readonly leftOut: number;
}

/** Both sides of what was played last, with their one gain. */
export interface Heard {
  readonly asked: Asked;
  readonly rate: number;
  readonly a: HeardSide;
  readonly b: HeardSide | null;
  /** 1/Pa: the same for both. */
  readonly gain: number;
  /** dB that the limits of loudness took off both. */
  readonly reducedDb: number;
}

export interface Listening {
  readonly status: "silent" | "rendering" | "playing";
  readonly heard: Heard | null;
  readonly side: Side;
  /** What stands beside the voice; null: it is heard alone. */
  readonly beside: Beside | null;
  /** Name of the tuning that pieces are played in; null: the set's own. */
  readonly tuning: string | null;
  /** 0 to 1 of the way to the ceiling. */
  readonly volume: number;
  /** Why nothing is heard, in words. */
  readonly fault: string | null;
}

export interface ListenDeeds {
  /** A note of the board, in the set's own tuning. To be called from what the user did: a browser makes no sound before that. */
  playNote(string: number, fret: number): void;
  playPiece(kind: PieceKind): void;
  /** What was played last, from the beginning. */
  again(): void;
  stop(): void;
  /** Lets the other side through, at the place where the sound is. */
  choose(side: Side): void;
  setBeside(beside: Beside | null): void;
  setTuning(tuning: string | null): void;
  setVolume(volume: number): void;
  /** What was rendered belongs to a document that is no longer in hand. */
  forget(): void;
  /** The side in the ears as a WAV file, at the common gain; null: nothing was rendered. */
  wav(float: boolean): Uint8Array<ArrayBuffer> | null;
  /** Seconds into what is playing; null: silent. */
  position(): number | null;
}

/** The way to the ears. */
export interface Loudspeaker {
  /** Plays all sides in step from the beginning, one of them let through; ends what was playing without a click. */
  play(
    sides: readonly Float32Array<ArrayBuffer>[],
    rate: number,
    gain: number,
    through: number,
    ended: () => void,
  ): void;
  through(side: number): void;
  /** Factor on the amplitude, 0 to 1. */
  volume(factor: number): void;
  stop(): void;
  position(): number | null;
}
