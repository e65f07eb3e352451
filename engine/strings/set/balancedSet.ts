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

/**
 * For every place the makeable string that comes nearest to the target, of those that neither break within a semitone
 * nor hang slack. `makeable`: light to heavy.
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
    const pulls = makeable.map(({ construction, design }) => {
      const pull = tension(design.linearDensity, place.scaleLength, place.frequency);
      const felt = feel(design, pull, place.scaleLength, touch);
      return {
        state: stringState(design, pull),
        chosen: {
          construction,
          design,
          tension: pull,
          feel: felt,
          breakMargin: breakMargin(design, pull),
          miss: (target.kind === "feel" ? felt : pull) / wanted - 1,
        },
      };
    });
    const holding = pulls.filter(({ state }) => state === "holds").map(({ chosen }) => chosen);
    const off = ({ miss }: ChosenString): number => Math.abs(Math.log1p(miss));
    const [first] = holding;
    if (first === undefined) {
      const why = pulls.some(({ state }) => state === "breaks") ? "breaks" : "slack";
      return { ...place, chosen: null, target: wanted, why };
    }
    const best = holding.reduce((a, b) => (off(b) < off(a) ? b : a), first);
    const lightest = holding.every(({ miss }) => miss >= best.miss);
    const heaviest = holding.every(({ miss }) => miss <= best.miss);
    const why =
      Math.abs(best.miss) <= farMiss ? null : lightest ? "lightest" : heaviest ? "heaviest" : "steps";
    return { ...place, chosen: best, target: wanted, why };
  });
}
