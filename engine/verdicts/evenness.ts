import { sayCount, sayList } from "./say.ts";
import { missOf, sayTarget, type TargetRange, type Verdict } from "./verdict.ts";

export interface NoteStrength {
  readonly string: number;
  readonly fret: number;
  readonly note: string;
  /** dB; null where no level is foreseen. */
  readonly levelDb: number | null;
  /** Median decay of the neighbours over its own; null where it is not computed. */
  readonly deadIndex: number | null;
}

export interface BoardEvenness {
  readonly notes: readonly NoteStrength[];
  /** 95th minus 5th percentile of the levels over frets 0 to 15, dB; null if no note's level is foreseen. */
  readonly levelSpreadDb: number | null;
  /** The spread that the maker aims at; it takes the place of our own limit. */
  readonly target?: TargetRange | null;
}

const spreadLimit = 12;
const deadLimit = 2;

/**
 * How even the board is: the spread of level over frets 0 to 15, and notes that die at least twice as fast as their
 * neighbours. Spread above 12 dB (two standard deviations of one note's level, each way) or any dead note:
 * watch. A maker's own range of spread takes the place of the 12 dB. Even is not called good in itself, so the words say what was found and leave the wish to the maker.
 */
export function evenness(board: BoardEvenness): Verdict {
  const aim = board.target ?? { low: null, high: spreadLimit };
  const low = board.notes.filter((n) => n.fret <= 15);
  const foreseen = low.filter((n) => n.levelDb !== null);
  const dead = board.notes
    .filter((n) => n.deadIndex !== null && n.deadIndex >= deadLimit)
    .sort((a, b) => b.deadIndex! - a.deadIndex!);
  const wide = board.levelSpreadDb !== null && missOf(board.levelSpreadDb, aim) !== 0;
  const byLevel = [...foreseen].sort((a, b) => b.levelDb! - a.levelDb!);
  const place = (n: NoteStrength) =>
    `${n.note} (string ${n.string}, ${n.fret === 0 ? "open" : `fret ${n.fret}`})`;
  const reasons = [
    ...(wide ? [`loudest ${place(byLevel[0]!)}, quietest ${place(byLevel[byLevel.length - 1]!)}`] : []),
    ...(dead.length > 0
      ? [
          `${sayList(dead.map(place), 4)} ${dead.length === 1 ? "dies" : "die"} in half the time of the notes around, or less`,
        ]
      : []),
  ];
  return {
    id: "evenness",
    title: "Evenness of the board",
    level: wide || dead.length > 0 ? "watch" : "good",
    computed: `${board.levelSpreadDb === null ? "no level is foreseen" : `levels spread over ${board.levelSpreadDb.toFixed(0)} dB`} (${foreseen.length} of ${low.length} notes to fret 15 foreseen); ${sayCount(dead.length, "dead note")}`,
    limit: `the spread should be ${sayTarget(aim, (dB) => `${dB.toFixed(0)} dB`)}; watch also from a note that dies in half the time of its neighbours`,
    source: board.target
      ? "the maker's target"
      : "our own judgement, no source: one note's level is known to 3 dB, and 12 dB is twice that each way",
    why:
      reasons.length > 0
        ? reasons.join("; ")
        : "no note stands out of its neighbours by more than the model can tell",
    whatWouldChange:
      "a main mode moved between two notes, more loss or mass at the mode that takes the energy, a different scale length or gauge for the string concerned",
    sureness:
      "one note's level within 3 dB (5 near a resonance), decay within a factor 1.5; the spread of the whole board moves by about 1.5 dB",
    figures: {
      foreseenNotes: foreseen.length,
      deadNotes: dead.length,
      ...(board.levelSpreadDb === null ? {} : { levelSpreadDb: board.levelSpreadDb }),
    },
    canHurt: false,
  };
}
