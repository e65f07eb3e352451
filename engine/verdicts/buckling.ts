import type { Level, Verdict } from "./verdict.ts";

const stopBelow = 2;
const watchBelow = 4;
/** Imperfect plates buckle at about half of what linear theory says. */
const knockDown = 2;

/**
 * How often the string load could be laid on before the top buckles, by linear theory (null: no buckling found). The real
 * factor is known within 2: below 2 stop, below 4 watch: common practice, no source.
 */
export function buckling(factor: number | null): Verdict {
  const level: Level =
    factor === null || factor >= watchBelow ? "good" : factor < stopBelow ? "stop" : "watch";
  return {
    id: "buckling",
    title: "Top ahead of the bridge does not buckle",
    level,
    computed:
      factor === null
        ? "no load of this kind buckles it by linear theory"
        : `it would buckle at ${factor.toFixed(1)} times the string load by linear theory, so about ${(factor / knockDown).toFixed(1)} times can be counted on`,
    limit: "watch below 4, stop below 2 times the load",
    source: "common practice, no source; linear eigenvalue, known within a factor of 2",
    why:
      level === "good"
        ? "it bears the strings even if it is as much weaker than linear theory as plates are"
        : level === "watch"
          ? "a plate that is not quite as drawn buckles at about half the linear figure, and creep brings it down further"
          : "a plate that is not quite as drawn buckles at about half the linear figure: it would fold ahead of the bridge",
    whatWouldChange:
      "taller braces from the bridge to the hole, a dome of smaller radius, a thicker top ahead of the bridge",
    sureness: "within a factor of 2: no imperfection, no creep and no change of shape on the way are in it",
    figures: factor === null ? {} : { factor },
    canHurt: false,
  };
}
