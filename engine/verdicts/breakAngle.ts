import { fromUnit } from "#engine/units";
import { sayAngle } from "./say.ts";
import type { Level, Verdict } from "./verdict.ts";

const least = fromUnit(20, "deg");
const most = fromUnit(35, "deg");
const slack = fromUnit(0.5, "deg");

/** Turn of each string over the saddle, rad, string 1 first: 20 to 35 degrees (common practice). Outside watch; a string that does not press on the saddle: stop. */
export function breakAngle(angles: readonly number[]): Verdict {
  const flattest = Math.min(...angles);
  const steepest = Math.max(...angles);
  const string = (angle: number): string => `string ${angles.indexOf(angle) + 1}`;
  const level: Level =
    flattest <= 0 ? "stop" : flattest < least - slack || steepest > most + slack ? "watch" : "good";
  const why =
    flattest <= 0
      ? `${string(flattest)} does not rest on the saddle`
      : flattest < least - slack
        ? `${string(flattest)} bears so lightly on the saddle that it may rattle and slide on it`
        : steepest > most + slack
          ? `${string(steepest)} kinks hard over the saddle: it leans the saddle forward and wears the string`
          : "every string bears well on the saddle and is not kinked";
  return {
    id: "break-angle",
    title: "Break angle over the saddle",
    level,
    computed: `${sayAngle(flattest)} (${string(flattest)}) to ${sayAngle(steepest)} (${string(steepest)})`,
    limit: "20 to 35 degrees",
    source: "common practice, no source",
    why,
    whatWouldChange:
      "the strings leaving the bridge nearer the saddle (slotted pin holes, ramps), a thinner bridge or a taller saddle for more; the other way for less",
    sureness: "geometry as drawn: ramps and slots cut towards the saddle make it steeper and are not in it",
    figures: { least: flattest, most: steepest },
    canHurt: false,
  };
}
