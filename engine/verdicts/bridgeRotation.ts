import { fromUnit } from "#engine/units";
import { honestAccuracy } from "./accuracy.ts";
import { sayAngle } from "./say.ts";
import { graver, missOf, sayTarget, type TargetRange, type Verdict } from "./verdict.ts";

const watchAbove = fromUnit(2, "deg");
/** Below this the top is stiffer than is usual: said, never counted against it. */
const stiffBelow = fromUnit(0.5, "deg");
const stopAbove = fromUnit(3, "deg");

/**
 * Elastic rotation of the bridge under the string load at tuning (rad, positive toward the nut). Above 2 degrees watch,
 * above 3 stop: common practice. The sign does not matter to the limit. Creep is not in it. Outside the maker's own range: watch.
 */
export function bridgeRotation(rotation: number, target: TargetRange | null = null): Verdict {
  const size = Math.abs(rotation);
  const custom = size > stopAbove ? "stop" : size > watchAbove ? "watch" : "good";
  const missed = target !== null && missOf(size, target) !== 0;
  const level = missed ? graver(custom, "watch") : custom;
  const way = rotation >= 0 ? "toward the nut" : "toward the tail";
  const spread = honestAccuracy("catalogue").bridgeRotation;
  return {
    id: "bridge-rotation",
    title: "Bridge rotation under string load",
    level,
    computed: `${sayAngle(size)} ${way} at tuning, elastic, perfect joints assumed`,
    limit: `watch above ${sayAngle(watchAbove)}, stop above ${sayAngle(stopAbove)}; 1 to 2 degrees is usual${target === null ? "" : `; the target is ${sayTarget(target, sayAngle)}`}`,
    source: "common practice, no source",
    why:
      custom === "good" && missed
        ? "it lies outside the range that was aimed at"
        : custom === "good"
          ? size < stiffBelow
            ? "the bridge rolls less than is usual: the top is stiff for this load"
            : "the top carries the pull of the strings on the saddle without rolling further than is usual"
          : custom === "watch"
            ? "the bridge rolls further than is usual; months under load add creep, a factor of 1.5 to 2"
            : "the top will belly behind the bridge and sink before it, and creep will double it: this guitar would not keep its action",
    whatWouldChange:
      "brace height near the bridge first (stiffness goes with its cube), then top thickness, the size of the bridge plate, a lower saddle, a lighter string load",
    sureness: `two times in three within ${(spread * 100).toFixed(0)} %: ${sayAngle(size * (1 - spread))} to ${sayAngle(size * (1 + spread))}`,
    figures: { rotation },
    canHurt: false,
  };
}
