import { defaultRender, type NoteTones, renderNotes } from "#engine/notes";
import type { Piece } from "./pieces.ts";

/** A piece as sound, with the notes that the model does not foresee left out. */
export interface RenderedPiece {
  /** Pa at 1 m. */
  readonly samples: Float32Array<ArrayBuffer>;
  readonly rate: number;
  /** Places in `piece.notes` that are silent. */
  readonly leftOut: readonly number[];
}

/** `tonesOf`: the tones of a string at a fret, null where they are not foreseen. */
export function renderPiece(
  piece: Piece,
  tonesOf: (string: number, fret: number) => NoteTones | null,
  rate = defaultRender.rate,
): RenderedPiece {
  const leftOut: number[] = [];
  const played = piece.notes.flatMap(({ string, fret, onset, stop, strength }, k) => {
    const tones = tonesOf(string, fret);
    if (tones === null) {
      leftOut.push(k);
      return [];
    }
    return [{ tones, onset, stop, strength }];
  });
  const samples = renderNotes(played, { ...defaultRender, rate, seconds: piece.seconds });
  return { samples, rate, leftOut };
}
