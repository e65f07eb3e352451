import { done, type Outcome, piecewiseLinear } from "#engine/numerics";
import { creepRange } from "#engine/woods";
import type { NeckModel } from "./neckModel.ts";
import type { NeckState } from "./neckRelief.ts";

/** What the strings do to the body, elastically: from a static solution of the whole. */
export interface BodyUnderStrings {
  /** Turn of the neck block that lifts the nut, rad. */
  readonly blockTurn: number;
  /** Rise of the saddle against the block's own unturned place, m. */
  readonly saddleRise: number;
}

/** Action over fret 12 in the first weeks, m. */
export interface FirstWeeks {
  readonly weeks: number;
  /** Elastic change since the strings were slack: neck alone, and block and saddle (null: not computed here). */
  readonly elasticNeck: number;
  readonly elasticBody: number | null;
  /** Rise after the set-up by creep of the neck's bend, and of all of it; null where the body is not known. */
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
 * With nut and fret raised by w, the string over fret 12 (f its share of the scale) gains (1 - f) w(nut) - w(12) + f u(saddle);
 * a block turned by t adds t f times the way from joint to saddle. The set-up takes the elastic part out; creep adds its
 * share of it afterwards. Fails as creepRange does.
 */
export function firstWeeks(
  model: NeckModel,
  state: NeckState,
  share: number,
  body: BodyUnderStrings | null,
): Outcome<FirstWeeks> {
  const creep = creepRange(weeks / weeksInYear, 1);
  if (!creep.ok) return creep;
  const { x, rise } = state.bent;
  const fret = model.fretX[Math.min(12, model.fretX.length - 1)]!;
  const elasticNeck = (1 - share) * rise[rise.length - 1]! - (fret > 0 ? piecewiseLinear(x, rise, fret) : 0);
  const pole = model.pulls.reduce((sum, p) => sum + p.pole / model.pulls.length, 0);
  const elasticBody = body === null ? null : share * (body.blockTurn * pole + body.saddleRise);
  const ranged = (elastic: number): RiseRange => ({
    low: elastic * (creep.value.low - 1),
    likely: elastic * (creep.value.likely - 1),
    high: elastic * (creep.value.high - 1),
  });
  return done({
    weeks,
    elasticNeck,
    elasticBody,
    neck: ranged(elasticNeck),
    whole: elasticBody === null ? null : ranged(elasticNeck + elasticBody),
    creep: ranged(1),
    source: creep.value.source,
  });
}
