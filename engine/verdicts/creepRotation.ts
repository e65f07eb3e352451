import { fromUnit } from "#engine/units";
import type { CreepRange } from "#engine/woods";
import { sayAngle } from "./say.ts";
import type { Verdict } from "./verdict.ts";

const watchLikely = fromUnit(3, "deg");
const watchHigh = fromUnit(4, "deg");

/** Bridge rotation after years of string load: the elastic rotation (rad) times each end of a range of creep. */
export interface CreepAhead {
  readonly years: number;
  readonly range: CreepRange;
}

/**
 * Bridge rotation after ten years: likely above 3 degrees, or above 4 at the high end, watch: common practice, no source. The
 * other spans are told along. Never a stop: creep is known too poorly for that, and the elastic rotation has its own.
 */
export function creepRotation(elastic: number, ahead: readonly CreepAhead[]): Verdict {
  const size = Math.abs(elastic);
  const ten = ahead.find((a) => a.years === 10) ?? ahead[ahead.length - 1]!;
  const likely = size * ten.range.likely;
  const high = size * ten.range.high;
  const level = likely > watchLikely || high > watchHigh ? "watch" : "good";
  const told = ahead.map(
    ({ years, range: r }) =>
      `${sayAngle(size * r.likely)} after ${years} year${years === 1 ? "" : "s"} (${sayAngle(size * r.low)} to ${sayAngle(size * r.high)})`,
  );
  return {
    id: "creep",
    title: "Bridge rotation after years under load",
    level,
    computed: told.join(", "),
    limit: `after ${ten.years} years: watch above ${sayAngle(watchLikely)} likely, or ${sayAngle(watchHigh)} at the high end`,
    source: `limits: common practice, no source; creep: ${ten.range.source}`,
    why:
      level === "watch"
        ? "in ten years the top may belly so far that the saddle has no height left to give"
        : "creep leaves the bridge within what a saddle can take up",
    whatWouldChange:
      "a stiffer top at the bridge (brace height first), lighter strings, strings slackened when it is laid away for long, steady humidity",
    sureness: ten.range.validity,
    figures: Object.fromEntries(
      ahead.flatMap(({ years, range: r }) => [
        [`low${years}`, size * r.low],
        [`likely${years}`, size * r.likely],
        [`high${years}`, size * r.high],
      ]),
    ),
    canHurt: false,
  };
}
