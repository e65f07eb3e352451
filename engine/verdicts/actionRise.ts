import { creepRange, type ServiceClass } from "#engine/woods";
import { sayLength } from "./say.ts";
import type { Verdict } from "./verdict.ts";

export interface ActionRise {
  /** Elastic rise over fret 12 by the string load since the glue dried, m: least and greatest of the strings. */
  readonly elastic: readonly [least: number, greatest: number];
  /** What creep adds to it in the first weeks, m: from the least string at its low to the greatest at its high; likely of the greatest. */
  readonly creep: { readonly low: number; readonly likely: number; readonly high: number };
}

const weeks = 4;
const usual = { low: 3e-4, high: 8e-4 } as const;

/** Creep of the first four weeks on an elastic rise of action (m by string): woods' `creepRange`. */
export function actionRiseOf(elastic: readonly number[], serviceClass: ServiceClass): ActionRise {
  const range = creepRange((weeks * 7) / 365.25, serviceClass);
  if (!range.ok) throw new Error(range.detail);
  const { low, likely, high } = range.value;
  const least = Math.min(...elastic);
  const greatest = Math.max(...elastic);
  return {
    elastic: [least, greatest],
    creep: { low: least * (low - 1), likely: greatest * (likely - 1), high: greatest * (high - 1) },
  };
}

/**
 * Rise of action since the guitar was glued up: elastic as it is strung, and creep of the first four weeks as a range. 0.3 to
 * 0.8 mm is usual; more is watched. Common practice, no source.
 */
export function actionRise({ elastic, creep }: ActionRise): Verdict {
  const [least, greatest] = elastic;
  const likely = greatest + creep.likely;
  const high = greatest + creep.high;
  const level = likely > usual.high ? "watch" : "good";
  return {
    id: "action-rise",
    title: "Action rises as it is strung and in the first weeks",
    level,
    computed: `over fret 12 by ${sayLength(least, 2)} to ${sayLength(greatest, 2)} as it is strung (elastic), and by ${sayLength(creep.low, 2)} to ${sayLength(creep.high, 2)} more in the first ${weeks} weeks (creep): in all about ${sayLength(likely, 1)}, at the most ${sayLength(high, 1)}`,
    limit: `watch above ${sayLength(usual.high, 1)}; ${sayLength(usual.low, 1)} to ${sayLength(usual.high, 1)} is usual`,
    source: "rise: common practice, no source; creep: EC5-KDEF with a power law in time (from memory)",
    why:
      level === "watch"
        ? "neck block, top and neck give more than is usual: the saddle as drawn will want lowering by about twice this"
        : likely < usual.low
          ? "body and neck give less than is usual"
          : "it is what makers find, and a second setup takes it up",
    whatWouldChange:
      "build the neck back by this much, or set up again after 2 to 4 weeks; rods from neck block to tail, a stiffer upper bout, a lower string load",
    sureness:
      "elastic part within 20 % and without the neck joint's own give; creep within a factor of 2 to 3",
    figures: {
      elasticLeast: least,
      elasticGreatest: greatest,
      creepLow: creep.low,
      creepLikely: creep.likely,
      creepHigh: creep.high,
    },
    canHurt: false,
  };
}
