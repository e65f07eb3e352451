import { done, type Outcome, piecewiseLinear } from "#engine/numerics";
import { creepRange } from "#engine/woods";
import type { NeckModel } from "./neckModel.ts";
import type { NeckState } from "./neckRelief.ts";

/** Action over fret 12 in the first weeks, m. */
export interface FirstWeeks {
  readonly weeks: number;
  /** Elastic change since the strings were slack: by the neck's bend alone, and of the whole guitar (null: not known here). */
  readonly elasticNeck: number;
  readonly elasticWhole: number | null;
  /** Rise after the set-up by creep of either. */
  readonly neck: RiseRange;
  readonly whole: RiseRange | null;
  /** Share of the elastic deflection that creeps in that time. */
  readonly creep: RiseRange;
  readonly source: string;
}

export interface RiseRange {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

const weeks = 4;
const weeksInYear = 365.25 / 7;

/**
 * With nut and fret raised by w, the string over fret 12 (f its share of the scale) gains (1 - f) w(nut) - w(12). The set-up takes the
 * elastic part out; creep adds its share of it afterwards. `wholeElastic`: what a solution of the whole body says of the same, m.
 * Fails as creepRange does.
 */
export function firstWeeks(
  model: NeckModel,
  state: NeckState,
  share: number,
  wholeElastic: number | null,
): Outcome<FirstWeeks> {
  const creep = creepRange(weeks / weeksInYear, 1);
  if (!creep.ok) return creep;
  const { x, rise } = state.bent;
  const fret = model.fretX[Math.min(12, model.fretX.length - 1)]!;
  const elasticNeck = (1 - share) * rise[rise.length - 1]! - (fret > 0 ? piecewiseLinear(x, rise, fret) : 0);
  const ranged = (elastic: number): RiseRange => ({
    low: elastic * (creep.value.low - 1),
    likely: elastic * (creep.value.likely - 1),
    high: elastic * (creep.value.high - 1),
  });
  return done({
    weeks,
    elasticNeck,
    elasticWhole: wholeElastic,
    neck: ranged(elasticNeck),
    whole: wholeElastic === null ? null : ranged(wholeElastic),
    creep: ranged(1),
    source: creep.value.source,
  });
}
