import { sayCount, sayLength, sayList } from "./say.ts";
import type { Level, Verdict } from "./verdict.ts";

/** One string of one tuning: frets (0 = open) at which it strikes a crown ahead, by pluck, and the action over fret 12, m. */
export interface BuzzingString {
  readonly string: number;
  readonly soft: readonly number[];
  readonly normal: readonly number[];
  readonly hard: readonly number[];
  readonly action: number;
  /** At which no stopped note strikes. */
  readonly leastActionSoft: number;
  readonly leastActionNormal: number;
}

export interface BuzzFigures {
  /** The set's own tuning first. */
  readonly tunings: readonly { readonly name: string; readonly strings: readonly BuzzingString[] }[];
  readonly frets: number;
  /** Least distance from a crown ahead, by pluck, own tuning; null on a board where no fret lies ahead of another. */
  readonly least: {
    readonly soft: NearestNote;
    readonly normal: NearestNote;
    readonly hard: NearestNote;
  } | null;
  /** Strings that lie on a fret when nothing is played. */
  readonly resting: readonly { readonly string: number; readonly fret: number; readonly overFret: number }[];
  readonly relief: number;
  /** Relief at which a normal pluck comes least near, and how much it gains there. */
  readonly betterRelief: { readonly relief: number; readonly gain: number } | null;
}

export interface NearestNote {
  readonly string: number;
  readonly fret: number;
  readonly overFret: number;
  readonly clearance: number;
}

/** A hand plays up to here all the time. */
const playedTo = 12;
/** Less than this is no reason to turn a rod. */
const worthTurning = 2e-5;

/**
 * Does the plucked string strike a crown ahead? Stopped anywhere up to fret 12 on a string even when plucked softly (or
 * at rest): stop, with the lowest action that clears. At some fret softly, or stopped anywhere up to fret 12 when plucked
 * normally: watch. A hard pluck may strike. The levels are common practice, no source; the swing is closed form.
 */
export function buzz(figures: BuzzFigures): Verdict {
  const { tunings, resting, frets, least } = figures;
  const everywhere = (struck: readonly number[]): boolean => {
    const last = Math.min(playedTo, frets - 1);
    return last >= 1 && Array.from({ length: last }, (_, k) => k + 1).every((f) => struck.includes(f));
  };
  const all = tunings.flatMap(({ name, strings }, tuning) => strings.map((s) => ({ ...s, name, tuning })));
  const dead = all.filter((s) => everywhere(s.soft));
  const some = all.filter((s) => s.soft.length > 0);
  const full = all.filter((s) => everywhere(s.normal));
  const level: Level =
    resting.length + dead.length > 0 ? "stop" : some.length + full.length > 0 ? "watch" : "good";
  // a string of the own tuning is not named again in another
  const named = (list: typeof all): string => {
    const own = new Set(list.filter((s) => s.tuning === 0).map((s) => s.string));
    const told = list.filter((s) => s.tuning === 0 || !own.has(s.string));
    return sayList(
      told.map((s) => `string ${s.string}${s.tuning === 0 ? "" : ` in ${s.name}`}`),
      6,
    );
  };
  const why =
    resting.length > 0
      ? `${sayList(
          resting.map((r) => `string ${r.string} stopped at fret ${r.fret} lies on fret ${r.overFret}`),
          4,
        )} before it is plucked`
      : dead.length > 0
        ? `even plucked softly, every stopped note up to fret ${playedTo} strikes a fret ahead on ${named(dead)}`
        : some.length > 0
          ? `even plucked softly, some notes strike a fret ahead on ${named(some)}`
          : full.length > 0
            ? `plucked normally, every stopped note up to fret ${playedTo} strikes a fret ahead on ${named(full)}`
            : "a soft pluck clears every fret, and a normal one clears part of the board at least on every string";
  const counts = (name: "soft" | "normal" | "hard"): string =>
    `${name} ${sayCount(
      tunings[0]!.strings.reduce((sum, s) => sum + s[name].length, 0),
      "note",
    )}`;
  return {
    id: "buzz",
    title: "Buzz on the frets",
    level,
    computed:
      least === null
        ? "no fret lies ahead of another"
        : `strike a crown ahead: ${counts("soft")}, ${counts("normal")}, ${counts("hard")} of ${tunings[0]!.strings.length * frets}; plucked normally, nearest is ${sayNearest(least.normal)}`,
    limit: `watch where a soft pluck strikes, or a normal one at every stopped note of a string up to fret ${playedTo}; stop where a soft one does, or a string lies on a fret`,
    source:
      "common practice, no source; the swing of the ideal plucked string is FLETCHER-ROSSING ch. 2 (from memory)",
    why,
    whatWouldChange: levers(figures, level === "stop" ? "leastActionSoft" : "leastActionNormal"),
    sureness:
      "an ideal string at 45 degrees, no losses and no stiffness in its first half swing: real strings strike a little less than this; levelled frets are taken as perfect, and 0.05 mm of unevenness is common",
    figures: {
      softNotes: all.reduce((sum, s) => sum + s.soft.length, 0),
      normalNotes: all.reduce((sum, s) => sum + s.normal.length, 0),
      hardNotes: all.reduce((sum, s) => sum + s.hard.length, 0),
      ...(least === null ? {} : { leastSoft: least.soft.clearance, leastNormal: least.normal.clearance }),
    },
    canHurt: false,
  };
}

function sayNearest(n: NearestNote): string {
  const where = n.fret === 0 ? "open" : `at fret ${n.fret}`;
  const how =
    n.clearance < 0 ? `${sayLength(-n.clearance, 2)} into` : `${sayLength(n.clearance, 2)} clear of`;
  return `string ${n.string} ${where}, ${how} fret ${n.overFret}`;
}

/** The nearest action that clears, on the two outer strings of the own tuning, and relief where it helps. */
function levers(
  { tunings, relief, betterRelief }: BuzzFigures,
  key: "leastActionSoft" | "leastActionNormal",
): string {
  const own = tunings[0]!.strings;
  const [treble, bass] = [own[0]!, own[own.length - 1]!];
  const pluck = key === "leastActionSoft" ? "soft" : "normal";
  const words = [
    `a ${pluck} pluck clears all stopped notes from an action of ${sayLength(treble[key])} treble and ${sayLength(bass[key])} bass (now ${sayLength(treble.action)} and ${sayLength(bass.action)})`,
  ];
  if (betterRelief !== null && betterRelief.gain > worthTurning)
    words.push(
      `relief of ${sayLength(betterRelief.relief, 2)} instead of ${sayLength(relief, 2)} gains ${sayLength(betterRelief.gain, 2)} where it is nearest`,
    );
  words.push("plucking nearer the saddle, and flatter over the top");
  return words.join("; ");
}
