import { sayList } from "./say.ts";
import type { Verdict } from "./verdict.ts";

export interface StringAtPitch {
  /** 1 is the highest. */
  readonly string: number;
  readonly note: string;
  /** N */
  readonly tension: number;
  /** N */
  readonly breakingForce: number;
}

// At a fixed length the tension goes with the square of the frequency (T = 4 m L f^2): a semitone is 2^(1/6).
const semitoneSharp = 2 ** (2 / 12);
const toneBend = 2 ** (4 / 12);

/**
 * Breaking force over tension of every string. Below 1.12 the string breaks when it is tuned a semitone sharp: stop.
 * Below 1.26 it breaks in a bend of a whole tone: watch. It carries no spread for nicks, age or a sharp saddle.
 */
export function stringStrength(strings: readonly StringAtPitch[]): Verdict {
  const margins = strings.map((s) => ({ ...s, margin: s.breakingForce / s.tension }));
  const weakest = margins.reduce((a, b) => (b.margin < a.margin ? b : a));
  const stopped = margins.filter((s) => s.margin < semitoneSharp);
  const watched = margins.filter((s) => s.margin < toneBend);
  const level = stopped.length > 0 ? "stop" : watched.length > 0 ? "watch" : "good";
  const named = sayList(
    (stopped.length > 0 ? stopped : watched).map((s) => `string ${s.string} (${s.note})`),
    6,
  );
  return {
    id: "string-strength",
    title: "Strings hold at pitch",
    level,
    computed: `the weakest is string ${weakest.string} (${weakest.note}): it breaks at ${weakest.margin.toFixed(2)} times its tension of ${weakest.tension.toFixed(0)} N`,
    limit: `watch below ${toneBend.toFixed(2)} (a bend of a whole tone), stop below ${semitoneSharp.toFixed(2)} (a semitone sharp)`,
    source:
      "closed form (tension goes with the square of the frequency); that a string must hold a whole-tone bend is common practice, no source",
    why:
      level === "stop"
        ? `${named} would break if tuned a semitone sharp: the end whips, and an eye is in reach`
        : level === "watch"
          ? `${named} would not hold a bend of a whole tone`
          : "every string holds a bend of a whole tone",
    whatWouldChange:
      "a lower pitch, a shorter scale, or stronger wire; for a plain string a thinner gauge hardly helps, because strength and tension fall together",
    sureness:
      "tension within 2 % (3 % for a wound string that was not weighed); the breaking force is that of new wire, no spread is carried for nicks, age or a sharp edge at the saddle",
    figures: { weakestString: weakest.string, weakestMargin: weakest.margin },
    canHurt: true,
  };
}
