import { choleskyDense, choleskySolve, done, failed, type Outcome } from "#engine/numerics";
import type { FrettingString, Offsets } from "./frettingString.ts";
import { type Intonation, intonation } from "./intonation.ts";

/** "zero": the nut stays on its line; "each": every string has its own nut offset; "shared": one for all strings. */
export type NutRule = "zero" | "each" | "shared";

export interface OffsetWishes {
  readonly nut: NutRule;
  /** How much each fret counts, index 0 (the open string) unused; default 1 up to fret 12 and 1/2 beyond. */
  readonly weights?: ArrayLike<number>;
  /** Where the search starts and, with the rule "zero", where the nut stays; default: no offsets. */
  readonly from?: readonly Offsets[];
}

/** The best places of nut and saddle, and what they leave. */
export interface FittedOffsets extends Intonation {
  /** Square root of the weighted mean square over the frets. */
  readonly rmsCents: number;
  readonly worst: { readonly fret: number; readonly cents: number };
}

/** A move below this ends the search, m: a hundredth of what a saddle is placed to. */
const stillMove = 1e-6;

/**
 * Offsets of nut and saddle that make the weighted sum of squared cents over all frets (and strings) least, by
 * Gauss-Newton (the cents are linear in the offsets to about 1 % per mm: three passes reach a micrometre). Strings in any
 * order; the result in the same. Refuses as `frettedPitch` does, and with "bad-weights".
 */
export function bestOffsets(
  strings: readonly FrettingString[],
  wishes: OffsetWishes,
): Outcome<readonly FittedOffsets[]> {
  const weightsOf = (frets: number) => wishes.weights ?? defaultWeights(frets);
  for (const s of strings) {
    const fault = weightFault(weightsOf(s.fretPlace.length), s.fretPlace.length);
    if (fault !== null) return failed("bad-weights", `string ${s.string}: ${fault}`);
  }
  if (wishes.nut !== "shared") {
    const each: FittedOffsets[] = [];
    for (const [i, s] of strings.entries()) {
      const start = wishes.from?.[i] ?? { nut: 0, saddle: 0 };
      const fit = fitted([s], [start], wishes.nut === "each" ? 1 : 0, weightsOf);
      if (!fit.ok) return fit;
      each.push(fit.value[0]!);
    }
    return done(each);
  }
  const start = strings.map((_, i) => wishes.from?.[i] ?? { nut: 0, saddle: 0 });
  const nut = start.reduce((sum, o) => sum + o.nut, 0) / Math.max(1, start.length);
  return fitted(
    strings,
    start.map((o) => ({ ...o, nut })),
    1,
    weightsOf,
  );
}

/** Fits a saddle offset to each string and, with `nuts` = 1, one nut offset to all of them. */
function fitted(
  strings: readonly FrettingString[],
  start: readonly Offsets[],
  nuts: 0 | 1,
  weightsOf: (frets: number) => ArrayLike<number>,
): Outcome<readonly FittedOffsets[]> {
  let offsets = start;
  const unknowns = strings.length + nuts;
  for (let pass = 0; pass < 6; pass++) {
    const normal = new Float64Array(unknowns * unknowns);
    const right = new Float64Array(unknowns);
    for (const [i, s] of strings.entries()) {
      const at = offsets[i]!;
      const step = 1e-5 * s.scaleLength;
      const here = intonation(s, at);
      if (!here.ok) return here;
      const columns: (readonly [number, Float64Array])[] = [];
      const moved = [
        { ...at, saddle: at.saddle + step },
        { ...at, nut: at.nut + step },
      ].slice(0, 1 + nuts);
      for (const [k, o] of moved.entries()) {
        const there = intonation(s, o);
        if (!there.ok) return there;
        const column = there.value.cents.map((c, f) => (c - here.value.cents[f]!) / step);
        columns.push([k === 0 ? i : strings.length, column]);
      }
      const weights = weightsOf(s.fretPlace.length);
      for (const [p, a] of columns) {
        right[p]! -= weighted(a, here.value.cents, weights);
        for (const [q, b] of columns) normal[p * unknowns + q]! += weighted(a, b, weights);
      }
    }
    const factor = choleskyDense(normal, unknowns);
    if (!factor.ok) return factor;
    const by = choleskySolve(factor.value, unknowns, right);
    offsets = offsets.map((o, i) => ({
      saddle: o.saddle + by[i]!,
      nut: o.nut + (nuts === 1 ? by[strings.length]! : 0),
    }));
    if (by.every((move) => Math.abs(move) < stillMove)) break;
  }
  const result: FittedOffsets[] = [];
  for (const [i, s] of strings.entries()) {
    const left = intonation(s, offsets[i]!);
    if (!left.ok) return left;
    const { cents } = left.value;
    const weights = weightsOf(cents.length);
    const ones = cents.map((_, f) => (f === 0 ? 0 : 1));
    const worst = cents.reduce((w, c, f) => (Math.abs(c) > Math.abs(cents[w]!) ? f : w), 1);
    result.push({
      ...left.value,
      rmsCents: Math.sqrt(weighted(cents, cents, weights) / weighted(ones, ones, weights)),
      worst: { fret: worst, cents: cents[worst]! },
    });
  }
  return done(result);
}

function weighted(a: Float64Array, b: Float64Array, weights: ArrayLike<number>): number {
  let sum = 0;
  for (let f = 1; f < a.length; f++) sum += weights[f]! * a[f]! * b[f]!;
  return sum;
}

function defaultWeights(length: number): Float64Array {
  return Float64Array.from({ length }, (_, fret) => (fret <= 12 ? 1 : 0.5));
}

function weightFault(weights: ArrayLike<number>, length: number): string | null {
  if (weights.length < length) return `${weights.length - 1} weights for ${length - 1} frets`;
  const used = Array.from(weights).slice(1, length);
  if (!used.every((w) => w >= 0 && Number.isFinite(w))) return "a weight is below 0 or not a number";
  return used.filter((w) => w > 0).length >= 2 ? null : "fewer than two frets count";
}
