import type { StringConstruction, StringDesign } from "../design.ts";
import { feel, type Touch } from "../feel.ts";
import { breakMargin, stringState, tension } from "../tension.ts";
import type { MakeableString } from "./makeableStrings.ts";

/** Where a string of the set is to sound: m and Hz. */
export interface SetPlace {
  readonly string: number;
  readonly frequency: number;
  readonly scaleLength: number;
}

/** What is to be equal: the tension (N), the feel (N/m), or each string's own tension (a profile, string by string). */
export type SetTarget =
  | { readonly kind: "tension"; readonly tension: number }
  | { readonly kind: "feel"; readonly feel: number }
  | { readonly kind: "profile"; readonly tensions: readonly number[] };

export interface ChosenString {
  readonly construction: StringConstruction;
  readonly design: StringDesign;
  readonly tension: number;
  readonly feel: number;
  readonly breakMargin: number;
  /** Over the target, less 1. */
  readonly miss: number;
}

export interface BalancedString extends SetPlace {
  /** Null where no makeable string holds. */
  readonly chosen: ChosenString | null;
  /** N, or N/m for feel. */
  readonly target: number;
  /**
   * Why the target is missed by more than `farMiss`; null where it is met. "lightest", "heaviest": of those that hold,
   * the end of the list was taken; "steps": the list has none nearer; "breaks", "slack": none holds here.
   */
  readonly why: "lightest" | "heaviest" | "steps" | "breaks" | "slack" | null;
}

/** A set is called balanced within this. */
const farMiss = 0.05;
/** A wound string is taken only where it comes nearer than a plain one by the first, one with an uncommon core by the second. */
const [woundCost, uncommonCost] = [0.04, 0.07];
/** A string that breaks in a bend of a whole tone is taken only where no other holds. */
const bendMargin = 2 ** (4 / 12);

/**
 * For every place the makeable string that comes nearest to the target, of those that neither break within a semitone
 * (within a whole tone, where there is a choice) nor hang slack. `makeable`: light to heavy.
 */
export function balancedSet(
  places: readonly SetPlace[],
  target: SetTarget,
  makeable: readonly MakeableString[],
  touch: Touch,
): readonly BalancedString[] {
  return places.map((place, i) => {
    const wanted =
      target.kind === "feel"
        ? target.feel
        : target.kind === "tension"
          ? target.tension
          : (target.tensions[i] ?? Number.NaN);
    const pulls = makeable.map(({ construction, design, usual }) => {
      const pull = tension(design.linearDensity, place.scaleLength, place.frequency);
      const felt = feel(design, pull, place.scaleLength, touch);
      const miss = (target.kind === "feel" ? felt : pull) / wanted - 1;
      return {
        cost:
          Math.abs(Math.log1p(miss)) + (construction.kind === "plain" ? 0 : usual ? woundCost : uncommonCost),
        state: stringState(design, pull),
        chosen: {
          construction,
          design,
          tension: pull,
          feel: felt,
          breakMargin: breakMargin(design, pull),
          miss,
        },
      };
    });
    const holding = pulls.filter(({ state }) => state === "holds");
    if (holding.length === 0) {
      const why = pulls.some(({ state }) => state === "breaks") ? "breaks" : "slack";
      return { ...place, chosen: null, target: wanted, why };
    }
    const bending = holding.filter(({ chosen }) => chosen.breakMargin >= bendMargin);
    const choice = bending.length > 0 ? bending : holding;
    const best = choice.reduce((a, b) => (b.cost < a.cost ? b : a)).chosen;
    const lightest = choice.every(({ chosen }) => chosen.miss >= best.miss);
    const heaviest = choice.every(({ chosen }) => chosen.miss <= best.miss);
    const why =
      Math.abs(best.miss) <= farMiss ? null : lightest ? "lightest" : heaviest ? "heaviest" : "steps";
    return { ...place, chosen: best, target: wanted, why };
  });
}
