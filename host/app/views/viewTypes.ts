import type { VoiceView } from "#engine/drawings";
import type { InstrumentSketch } from "#engine/pipeline";
import type { LivePicture, VoicePicture } from "../desk/deskTypes.ts";

/** Which figure of a note the board's ink says. */
export type NoteFigure = "level" | "decay" | "wolf" | "dead";

export interface NoteBoardViewProps {
  /** The last full voice. */
  readonly view: VoiceView;
  /** What is under the hand: drawn in its place, with a trace of `view` behind it. */
  readonly live: LivePicture | null;
  /** A note was struck: clicked, touched or Enter. Absent: notes make no sound, and nothing promises that they do. */
  readonly onPlay?: (string: number, fret: number) => void;
}

/** A second response to lay over the first. */
export interface OtherResponse {
  readonly name: string;
  readonly view: VoiceView;
}

export interface ResponseViewProps {
  readonly view: VoiceView;
  /** Drawn dashed in the accent's ink over the first. */
  readonly other?: OtherResponse;
  /** Its modes are marked where the hand has them. */
  readonly live: LivePicture | null;
}

export interface ModePickerProps {
  readonly view: VoiceView;
  readonly live: LivePicture | null;
  /** Index into `view.modes`. */
  readonly chosen: number;
  readonly onChoose: (index: number) => void;
}

export interface BodyViewProps {
  readonly view: VoiceView;
  /** Of the same document as `view`. */
  readonly sketch: InstrumentSketch;
  /** Index into `view.modes`. */
  readonly mode: number;
  /** Its shapes are drawn where it has them. */
  readonly live: LivePicture | null;
}

/** One of two instruments, or of two states of one, side by side. */
export interface CompareSide {
  /** As the maker tells them apart: "as it is", "before the wide waist". */
  readonly name: string;
  /** The document. */
  readonly text: string;
  /** null: not computed yet, or it failed. */
  readonly voice: VoicePicture | null;
  /** Why there is no voice; how far it has come. */
  readonly words?: string;
  /** Of the strung instrument, kg; absent: not computed. */
  readonly massKg?: number;
}

export interface CompareViewProps {
  readonly a: CompareSide;
  readonly b: CompareSide;
  readonly onPlay?: (side: "a" | "b", string: number, fret: number) => void;
}
