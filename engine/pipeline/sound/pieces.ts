import type { Build } from "#engine/instrument";
import { nearestNote } from "#engine/strings";

export type PieceKind = "scale" | "chord" | "phrase";

/** A note of a piece on the instrument's board. */
interface PieceNote {
  readonly string: number;
  readonly fret: number;
  /** s from the beginning. */
  readonly onset: number;
  /** s from the beginning: a finger stops the string; null: it rings on. */
  readonly stop: number | null;
  /** Factor on the pluck's force. */
  readonly strength: number;
}

export interface Piece {
  readonly kind: PieceKind | "note";
  readonly notes: readonly PieceNote[];
  /** s: of the whole. */
  readonly seconds: number;
}

/** Wanted: semitones over the lowest string, beat, strength. */
type Wish = readonly [semitones: number, beat: number, strength: number];

const scaleSteps = [0, 2, 4, 5, 7, 9, 11] as const;

/**
 * Our own, in 6/8: the bass walks from the open lowest string up a fourth and a fifth and comes home, a melody over it turns about
 * the third and the sixth. Degrees of the major scale on the lowest string, so that it lies in any tuning.
 */
const phraseWishes: readonly Wish[] = [
  [0, 0, 1],
  [12, 1, 0.7],
  [19, 2, 0.8],
  [16, 3, 1],
  [19, 4, 0.7],
  [21, 5, 0.9],
  [5, 6, 1],
  [17, 7, 0.7],
  [21, 8, 0.8],
  [24, 9, 1],
  [21, 10, 0.7],
  [19, 11, 0.8],
  [7, 12, 1],
  [14, 13, 0.7],
  [19, 14, 0.8],
  [23, 15, 1],
  [21, 16, 0.8],
  [19, 17, 0.7],
  [0, 18, 1],
  [16, 18.5, 0.8],
  [24, 19, 1],
];
const phraseBeat = 0.28;
const scaleBeat = 0.4;
const chordGap = 0.14;
const ringing = 3;

/** The piece on the strings in a tuning (place in `build.tunings`), played where each note lies lowest on the board. */
export function piece(build: Build, kind: PieceKind, tuning = 0): Piece {
  const open = openNotes(build, tuning);
  const wishes = kind === "scale" ? scaleWishes() : kind === "chord" ? null : phraseWishes;
  if (wishes === null) return chord(open);
  const beat = kind === "scale" ? scaleBeat : phraseBeat;
  const placed = wishes.flatMap(([semitones, at, strength]) => {
    const place = lowestPlace(open, open.lowest + semitones, build.board.frets);
    return place === null ? [] : [{ ...place, onset: at * beat, strength }];
  });
  return finished(kind, placed);
}

interface OpenNotes {
  readonly notes: readonly { readonly string: number; readonly note: number }[];
  readonly lowest: number;
}

function openNotes(build: Build, tuning: number): OpenNotes {
  const tuned = build.tunings[tuning] ?? build.tunings[0]!;
  const notes = build.strings.map(({ string }, i) => ({
    string,
    note: nearestNote(tuned.frequencies[i]!, build.tuningReference),
  }));
  return { notes, lowest: Math.min(...notes.map(({ note }) => note)) };
}

/** Two octaves up the major scale on the lowest string. */
function scaleWishes(): readonly Wish[] {
  return Array.from({ length: 15 }, (_, k): Wish => [12 * Math.floor(k / 7) + scaleSteps[k % 7]!, k, 1]);
}

/** Where a note has the lowest fret; null: nowhere on the board. */
function lowestPlace(open: OpenNotes, note: number, frets: number): { string: number; fret: number } | null {
  const places = open.notes
    .map(({ string, note: own }) => ({ string, fret: note - own }))
    .filter(({ fret }) => fret >= 0 && fret <= frets)
    .sort((a, b) => a.fret - b.fret);
  return places[0] ?? null;
}

/** The major chord on the lowest string, every string at its lowest fret that has a note of it, from low to high; all ring on. */
function chord(open: OpenNotes): Piece {
  const places = [...open.notes]
    .sort((a, b) => a.note - b.note)
    .map(({ string, note }) => {
      const fret = [0, 1, 2, 3, 4].find((f) => [0, 4, 7].includes((note + f - open.lowest) % 12))!;
      return { string, fret };
    });
  return finished(
    "chord",
    places.map((place, k) => ({ ...place, onset: k * chordGap, strength: 1 })),
  );
}

/** A string is stopped when it is plucked again. */
function finished(kind: PieceKind, placed: readonly Omit<PieceNote, "stop">[]): Piece {
  const notes = placed.map((note, k) => {
    const next = placed.find((later, l) => l > k && later.string === note.string);
    return { ...note, stop: next?.onset ?? null };
  });
  return { kind, notes, seconds: Math.max(0, ...notes.map(({ onset }) => onset)) + ringing };
}
