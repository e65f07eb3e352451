import { choleskyDense, choleskySolve, done, failed, type Outcome, type Warning } from "#engine/numerics";
import { bestOffsets, type FittedOffsets, type OffsetWishes } from "./bestOffsets.ts";
import { touchingDepth } from "./fingerDepth.ts";
import { frettedPitch } from "./frettedPitch.ts";
import type { FrettingString, Offsets } from "./frettingString.ts";
import { type MeasuredNote, readingFault } from "./measuredNote.ts";

/** What was thought of the string before it was measured: one standard deviation each. */
export interface FitPriors {
  /** Of the effective axial stiffness over its value; default its own spread together with 0.15 for slip over the crowns, turns on the post, the ball's twist and a body that yields. */
  readonly axialStiffness?: number;
  /** Of the finger's depth beyond what just holds the string on the frets, as a factor to divide and multiply by; default 2. */
  readonly fingerDepth?: number;
  /** Of the place of the saddle's crown, m; default 0.2 mm (common practice: what a saddle is placed to). */
  readonly saddle?: number;
  /** Of the open string's tuning where it was not read, cents; default 1. */
  readonly tuningCents?: number;
}

/** A value with one standard deviation, before and after the readings. */
export interface FittedValue {
  readonly name: "axialStiffness" | "fingerDepth" | "saddleOffset" | "tuningCents";
  /** N, m, m, cents. */
  readonly value: number;
  readonly spread: number;
  readonly priorValue: number;
  readonly priorSpread: number;
  /** False if the readings took less than a fifth off the spread that was there before them. */
  readonly determined: boolean;
}

export interface MeasuredFit {
  readonly string: number;
  readonly values: readonly FittedValue[];
  /** The string with the fitted stiffness and finger, and where its crowns are found to stand. */
  readonly fitted: FrettingString;
  readonly offsets: Offsets;
  /** Reading less fit, cents, in the order of the readings. */
  readonly leftCents: Float64Array;
  /** How far the saddle's crown moves back, m, negative towards the nut; low to high is two standard deviations either way. */
  readonly recut: { readonly move: number; readonly low: number; readonly high: number };
  /** What remains by fret after the re-cut, if the fit is right. */
  readonly after: FittedOffsets;
}

/**
 * Fits the effective axial stiffness, the finger's depth, the true place of the saddle's crown and the tuning of the
 * open string to readings, by weighted least squares on the readings and on what was thought before (Gauss-Newton on
 * logarithms of the first two), and says how to re-cut the saddle. The nut stays where it is.
 * Refuses with "too-few-readings" (fewer than two different frets: says what stays open), "bad-reading", "not-converged", and as
 * `frettedPitch` does. Spreads grow with the misfit where the readings scatter more than they say. Warns with "readings-disagree" where they lie farther from the fit than their spread allows,
 * and with "not-determined", naming the values that stay what they were thought to be.
 */
export function fitMeasured(
  s: FrettingString,
  offsets: Offsets,
  readings: readonly MeasuredNote[],
  priors: FitPriors = {},
  weights?: OffsetWishes["weights"],
): Outcome<MeasuredFit> {
  const fault = readingFault(s, readings);
  if (fault !== null) return fault;
  const priorSpread = [
    priors.axialStiffness ?? Math.hypot(s.design.spread.axialStiffness, 0.15),
    Math.log(priors.fingerDepth ?? 2),
    priors.saddle ?? 2e-4,
    priors.tuningCents ?? 1,
  ];
  if (readings.some((r) => r.fret === 0)) priorSpread[3] = 1200; // the reading itself says it
  const spreads = readings.map((r) => r.spreadCents ?? 2);
  const modelled = (x: readonly number[]): Outcome<Float64Array> => {
    const { string, at } = stateOf(s, offsets, x);
    const cents = new Float64Array(readings.length);
    for (const [i, r] of readings.entries()) {
      const pitch = r.fret === 0 ? null : frettedPitch(string, r.fret, at);
      if (pitch !== null && !pitch.ok) return pitch;
      cents[i] = x[3]! + (pitch === null ? 0 : pitch.value.cents);
    }
    return done(cents);
  };

  /** Sum of squares over their spreads, of what is left of the readings and of the steps from what was thought. */
  const misfit = (y: readonly number[]): number => {
    const there = modelled(y);
    if (!there.ok) return Number.POSITIVE_INFINITY;
    const left = there.value.map((c, i) => ((readings[i]!.cents - c) / spreads[i]!) ** 2);
    return y.reduce(
      (sum, v, k) => sum + (v / priorSpread[k]!) ** 2,
      left.reduce((sum, l) => sum + l, 0),
    );
  };

  let x: readonly number[] = [0, 0, 0, 0];
  let factor: Float64Array = new Float64Array(16);
  let moved = Number.POSITIVE_INFINITY;
  for (let pass = 0; pass < 30 && moved > 1e-6; pass++) {
    const here = modelled(x);
    if (!here.ok) return here;
    const columns: Float64Array[] = [];
    for (let k = 0; k < 4; k++) {
      const step = [1e-4, 1e-4, 1e-6, 1e-2][k]!;
      const there = modelled(x.map((v, j) => (j === k ? v + step : v)));
      if (!there.ok) return there;
      columns.push(there.value.map((c, i) => (c - here.value[i]!) / step));
    }
    const normal = new Float64Array(16);
    const right = new Float64Array(4);
    for (let p = 0; p < 4; p++) {
      const a = columns[p]!;
      normal[5 * p]! += priorSpread[p]! ** -2;
      right[p]! -= x[p]! * priorSpread[p]! ** -2;
      for (const [i, r] of readings.entries()) {
        right[p]! += (a[i]! * (r.cents - here.value[i]!)) / spreads[i]! ** 2;
        for (let q = 0; q < 4; q++) normal[4 * p + q]! += (a[i]! * columns[q]![i]!) / spreads[i]! ** 2;
      }
    }
    const lower = choleskyDense(normal, 4);
    if (!lower.ok) return lower;
    factor = lower.value;
    const by = choleskySolve(factor, 4, right);
    const now = x;
    const after = (share: number) => now.map((v, k) => v + share * by[k]!);
    // a full step overshoots where the readings ask for what the string cannot do
    let share = 1;
    while (share > 1e-3 && !(misfit(after(share)) <= misfit(now))) share /= 2;
    x = after(share);
    moved = Math.max(...by.map((b, k) => Math.abs(b) / priorSpread[k]!));
  }
  if (!(moved <= 1e-3))
    return failed(
      "not-converged",
      `string ${s.string}: no stiffness, finger and saddle come near these readings; read them again`,
    );
  return concluded(s, offsets, readings, spreads, { x, factor, priorSpread, modelled, misfit }, weights);
}

function stateOf(s: FrettingString, offsets: Offsets, x: readonly number[]) {
  const lightest = lightestFinger(s);
  const string: FrettingString = {
    ...s,
    design: { ...s.design, axialStiffness: s.design.axialStiffness * Math.exp(x[0]!) },
    finger: { ...s.finger, depth: lightest + (s.finger.depth - lightest) * Math.exp(x[1]!) },
  };
  return { string, at: { nut: offsets.nut, saddle: offsets.saddle + x[2]! } };
}

/** Depth that the fit stays above: at less the string leaves a crown and no pitch is left to compare. */
function lightestFinger(s: FrettingString): number {
  return Math.min(touchingDepth(s), 0.8 * s.finger.depth);
}

interface Minimum {
  readonly x: readonly number[];
  /** Cholesky factor of the inverse of the covariance. */
  readonly factor: Float64Array;
  readonly priorSpread: readonly number[];
  readonly modelled: (x: readonly number[]) => Outcome<Float64Array>;
  readonly misfit: (x: readonly number[]) => number;
}

function concluded(
  s: FrettingString,
  offsets: Offsets,
  readings: readonly MeasuredNote[],
  spreads: readonly number[],
  { x, factor, priorSpread, modelled, misfit }: Minimum,
  weights: OffsetWishes["weights"],
): Outcome<MeasuredFit> {
  const covariance = choleskySolve(
    factor,
    4,
    Float64Array.from({ length: 16 }, (_, i) => (i % 5 === 0 ? 1 : 0)),
    4,
  );
  const best = (y: readonly number[]) => {
    const { string, at } = stateOf(s, offsets, y);
    return bestOffsets([string], { nut: "zero", from: [at], ...(weights === undefined ? {} : { weights }) });
  };
  const wanted = best(x);
  if (!wanted.ok) return wanted;
  const after = wanted.value[0]!;
  const { string, at } = stateOf(s, offsets, x);
  // the move that is wanted, by each value: the saddle's place itself counts -1, the tuning not at all
  const gradient = [0, 0, -1, 0];
  for (const k of [0, 1]) {
    const step = 1e-3;
    const there = best(x.map((v, j) => (j === k ? v + step : v)));
    if (!there.ok) return there;
    gradient[k] = (there.value[0]!.offsets.saddle - after.offsets.saddle) / step;
  }
  let variance = 0;
  for (let p = 0; p < 4; p++)
    for (let q = 0; q < 4; q++) variance += gradient[p]! * covariance[4 * p + q]! * gradient[q]!;
  const move = after.offsets.saddle - at.saddle;

  const found = modelled(x);
  if (!found.ok) return found;
  const leftCents = found.value.map((c, i) => readings[i]!.cents - c);
  // readings and prior values that scatter more than they should widen everything by as much
  const widened = Math.max(1, Math.sqrt(misfit(x) / readings.length));
  const sigma = widened * Math.sqrt(variance);
  const spreadOf = (k: number) => widened * Math.sqrt(covariance[5 * k]!);
  const value = (
    name: FittedValue["name"],
    k: number,
    now: number,
    prior: number,
    scale = 1,
    priorScale = scale,
  ): FittedValue => ({
    name,
    value: now,
    spread: spreadOf(k) * scale,
    priorValue: prior,
    priorSpread: priorSpread[k]! * priorScale,
    determined: spreadOf(k) < 0.8 * priorSpread[k]!,
  });
  const [stiffness, thought] = [string.design.axialStiffness, s.design.axialStiffness];
  const [depth, usual, lightest] = [string.finger.depth, s.finger.depth, lightestFinger(s)];
  const values = [
    value("axialStiffness", 0, stiffness, thought, stiffness, thought),
    value("fingerDepth", 1, depth, usual, depth - lightest, usual - lightest),
    value("saddleOffset", 2, at.saddle, offsets.saddle),
    value("tuningCents", 3, x[3]!, 0),
  ];
  return done(
    {
      string: s.string,
      values,
      fitted: string,
      offsets: at,
      leftCents,
      recut: { move, low: move - 2 * sigma, high: move + 2 * sigma },
      after,
    },
    fitWarnings(s, values, readings, leftCents, spreads),
  );
}

function fitWarnings(
  s: FrettingString,
  values: readonly FittedValue[],
  readings: readonly MeasuredNote[],
  leftCents: Float64Array,
  spreads: readonly number[],
): Warning[] {
  const warnings: Warning[] = [];
  const open = values.filter((v) => !v.determined).map((v) => words[v.name]);
  if (open.length > 0)
    warnings.push({
      code: "not-determined",
      detail: `string ${s.string}: the readings say little of ${open.join(" and of ")}: kept near what was thought before`,
    });
  let worst = 0;
  for (let i = 1; i < leftCents.length; i++)
    if (Math.abs(leftCents[i]! / spreads[i]!) > Math.abs(leftCents[worst]! / spreads[worst]!)) worst = i;
  if (Math.abs(leftCents[worst]!) > 3 * spreads[worst]!)
    warnings.push({
      code: "readings-disagree",
      detail: `string ${s.string}, fret ${readings[worst]!.fret}: the reading lies ${leftCents[worst]!.toFixed(1)} cents from anything this string could do by stiffness, finger and saddle; read it again, or look for a worn fret or string`,
    });
  return warnings;
}

const words: Readonly<Record<FittedValue["name"], string>> = {
  axialStiffness: "the string's axial stiffness",
  fingerDepth: "the finger's depth",
  saddleOffset: "the saddle's true place",
  tuningCents: "the tuning of the open string",
};
