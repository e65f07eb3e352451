import type { NoteTones } from "#engine/notes";
import { noteTones, piece, type RenderedPiece, renderPiece, type SoundingBody } from "#engine/pipeline";
import type { NoteAsked, PieceAsked } from "./deskTypes.ts";
import { remembered } from "./remembered.ts";

/** s: how long a single note is let ring. */
const noteSeconds = 4;

/** The tones of one note; null: there is nothing to sound, no such tuning, or the note is not foreseen. */
export function tonesFrom(body: SoundingBody | null, asked: NoteAsked): NoteTones | null {
  if (body === null) return null;
  const tones = noteTones(body, asked.string, asked.fret, asked.pluck, tuningPlace(body, asked.tuning));
  return tones.ok ? tones.value : null;
}

/** A note rung out, or a piece; null as `tonesFrom`. */
export function renderedOf(body: SoundingBody | null, asked: NoteAsked | PieceAsked): RenderedPiece | null {
  if (body === null) return null;
  if ("piece" in asked) {
    const { pluck, rate } = asked;
    const tuning = tuningPlace(body, asked.tuning);
    if (tuning < 0) return null;
    return renderPiece(
      piece(body.build, asked.piece, tuning),
      (string, fret) => {
        const tones = noteTones(body, string, fret, pluck, tuning);
        return tones.ok ? tones.value : null;
      },
      rate,
    );
  }
  const tones = tonesFrom(body, asked);
  if (tones === null) return null;
  const note = { string: asked.string, fret: asked.fret, onset: 0, stop: null, strength: 1 };
  return renderPiece({ kind: "note", notes: [note], seconds: noteSeconds }, () => tones);
}

/** Place in the body's tunings; below 0: it has none of that name. */
function tuningPlace({ build }: SoundingBody, tuning: string | undefined): number {
  return tuning === undefined ? 0 : build.tunings.findIndex(({ name }) => name === tuning);
}

/** Sounds of the last few voices, whose bodies another worker sends. */
export function soundDuties() {
  const bodies = remembered<SoundingBody>(3);
  return {
    /** Whether the body of this text's voice is here. */
    hears: (text: string): boolean => bodies.get(text) !== undefined,
    /** Waits for what the voice's worker sends. */
    hear: async ({ text, port }: { readonly text: string; readonly port: MessagePort }): Promise<boolean> => {
      const body = await new Promise<SoundingBody | null>((settle) => {
        port.onmessage = ({ data }) => settle(data as SoundingBody | null);
      });
      port.close();
      if (body !== null) bodies.set(text, body);
      return body !== null;
    },
    tones: ({ text, asked }: { readonly text: string; readonly asked: NoteAsked }): NoteTones | null =>
      tonesFrom(bodies.get(text) ?? null, asked),
    sound: ({
      text,
      asked,
    }: {
      readonly text: string;
      readonly asked: NoteAsked | PieceAsked;
    }): RenderedPiece | null => renderedOf(bodies.get(text) ?? null, asked),
  };
}
