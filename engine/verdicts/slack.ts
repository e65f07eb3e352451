import { sayForce, sayList } from "./say.ts";
import type { Verdict } from "./verdict.ts";

export interface StringSlackness {
  /** 1 is the highest. */
  readonly string: number;
  readonly note: string;
  /** N */
  readonly tension: number;
  /** Tension below which it hangs slack, N. */
  readonly slackLimit: number;
}

/** Tension goes with the square of the frequency: a whole tone is 2^(1/3). */
const toneLower = 2 ** (4 / 12);

/** Tension of every string over the one at which it hangs slack: below 1 stop, below 1.26 (slack a whole tone lower) watch. */
export function slack(strings: readonly StringSlackness[]): Verdict {
  const ratios = strings.map((s) => ({ ...s, ratio: s.tension / s.slackLimit }));
  const loosest = ratios.reduce((a, b) => (b.ratio < a.ratio ? b : a));
  const stopped = ratios.filter(({ ratio }) => ratio < 1);
  const watched = ratios.filter(({ ratio }) => ratio < toneLower);
  const level = stopped.length > 0 ? "stop" : watched.length > 0 ? "watch" : "good";
  const named = sayList(
    (stopped.length > 0 ? stopped : watched).map(({ string, note }) => `string ${string} (${note})`),
    6,
  );
  return {
    id: "slack",
    title: "Strings are tight enough to play",
    level,
    computed: `the loosest is string ${loosest.string} (${loosest.note}): ${sayForce(loosest.tension)}, ${loosest.ratio.toFixed(1)} times what it is slack at`,
    limit: `stop below ${sayForce(loosest.slackLimit)} for that string (25 N, or 8 % of what a string breaks at); watch where it would be slack a whole tone lower`,
    source: "common practice, no source; closed form for the pitch that a finger's stretch adds",
    why:
      level === "stop"
        ? `${named} would rattle on the frets and sharpen by tens of cents under a finger`
        : level === "watch"
          ? `${named} will feel loose, and will not go a whole tone lower`
          : "every string stays tight a whole tone lower",
    whatWouldChange:
      "a heavier string, a higher note or a longer scale: tension goes with weight and with the square of the others",
    sureness:
      "tension within 2 % for a plain string, 3 % for a wound one; where a string begins to feel slack is a matter of hands",
    figures: { loosestString: loosest.string, loosestRatio: loosest.ratio },
    canHurt: false,
  };
}
