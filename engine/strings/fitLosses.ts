import { choleskyDense, choleskySolve, done, failed, type Outcome } from "#engine/numerics";
import { airDrag, airReference, type SurroundingAir } from "./airDrag.ts";
import type { StretchedString, StringLoss } from "./design.ts";

/** A partial of a string on unyielding ends: frequency Hz, time in which it falls by 60 dB, s. */
export interface MeasuredDecay {
  readonly frequency: number;
  readonly t60: number;
  /** One standard deviation over the value; 0.1 if not said (engineering judgement). */
  readonly spread?: number;
}

/** What is known of the air: nothing (its part is fitted too), or what it is and how thick the string. */
export type AirAround =
  | { readonly kind: "fitted" }
  | { readonly kind: "drag"; readonly diameter: number; readonly air?: SurroundingAir };

export interface FittedLosses {
  readonly loss: StringLoss;
  /** 16th and 84th percentile of each figure; from 0 where it is not told from nothing. A known air has no range. */
  readonly range: { readonly [name in keyof StringLoss]: readonly [low: number, high: number] };
  /** Rms of what is left, over the spread of the decays: near 1 where the form fits. */
  readonly misfit: number;
}

/**
 * Least-squares fit of the loss form of WOODHOUSE-2004 (see StringLoss) to measured decays, each loss not below 0:
 *   eta = 2 ln(1000)/(w T60) = [ T (friction + air/w) + EI bending k^2 ]/(T + EI k^2),
 * k from w by the stiff string, residuals over the spread of each decay. With `air.kind` "drag" the air's part is that of
 * CUESTA and only friction and bending are fitted; `loss.air` is then its value at the frequency where `designString` takes
 * it. Ends that yield (a guitar's bridge) add losses that the fit takes for friction: measure on a rigid bench.
 * Fails with "too-few-decays" or "bad-decay".
 */
export function fitLosses(
  s: Omit<StretchedString, "loss" | "length">,
  measured: readonly MeasuredDecay[],
  around: AirAround = { kind: "fitted" },
): Outcome<FittedLosses> {
  const names =
    around.kind === "fitted" ? (["friction", "bending", "air"] as const) : (["friction", "bending"] as const);
  const count = names.length;
  if (measured.length < count)
    return failed("too-few-decays", `${count} losses cannot be told from ${measured.length} decays`);
  const columns = new Float64Array(count * measured.length);
  const wanted = new Float64Array(measured.length);
  for (const [i, { frequency, t60, spread = 0.1 }] of measured.entries()) {
    const bad = [frequency, t60, spread].find((x) => !(x > 0 && Number.isFinite(x)));
    if (bad !== undefined)
      return failed("bad-decay", `decay ${i + 1} has the value ${bad}; it must be a positive number`);
    const w = 2 * Math.PI * frequency;
    const eta = (2 * Math.log(1000)) / (w * t60);
    const root = Math.sqrt(s.tension ** 2 + 4 * s.bendingStiffness * s.linearDensity * w * w);
    // EI k^2, from EI k^4 + T k^2 = mu w^2
    const bent = (root - s.tension) / 2;
    const whole = s.tension + bent;
    const drag =
      around.kind === "drag" ? airDrag(around.diameter, frequency, around.air) / (s.linearDensity * w) : 0;
    const weight = 1 / (spread * eta);
    wanted[i] = (eta - (s.tension * drag) / whole) * weight;
    columns[i * count] = (s.tension / whole) * weight;
    columns[i * count + 1] = (bent / whole) * weight;
    if (count === 3) columns[i * count + 2] = (s.tension / (whole * w)) * weight;
  }
  const fit = notNegative(columns, count, wanted);
  const free = measured.length - fit.active.length;
  const misfit = Math.sqrt(fit.squares / measured.length);
  // decays that scatter more than they were said to widen the range
  const scale = free > 0 ? Math.max(1, Math.sqrt(fit.squares / free)) : 1;
  const range = (k: number): readonly [number, number] => {
    const sigma = scale * fit.sigma[k]!;
    return [Math.max(0, fit.values[k]! - sigma), fit.values[k]! + sigma];
  };
  const known =
    around.kind === "drag" ? airDrag(around.diameter, airReference, around.air) / s.linearDensity : 0;
  return done({
    loss: {
      friction: fit.values[0]!,
      bending: fit.values[1]!,
      air: count === 3 ? fit.values[2]! : known,
    },
    range: { friction: range(0), bending: range(1), air: count === 3 ? range(2) : [known, known] },
    misfit,
  });
}

interface Fit {
  readonly values: readonly number[];
  readonly sigma: readonly number[];
  readonly active: readonly number[];
  readonly squares: number;
}

/** Least squares with no value below 0: every choice of values that are not 0 is tried, of two or three there are few. */
function notNegative(columns: Float64Array, count: number, wanted: Float64Array): Fit {
  let best: Fit | null = null;
  for (let choice = 0; choice < 1 << count; choice++) {
    const active = Array.from({ length: count }, (_, k) => k).filter((k) => (choice >> k) & 1);
    const fit = fitted(columns, count, wanted, active);
    if (fit !== null && (best === null || fit.squares < best.squares)) best = fit;
  }
  return best!;
}

/** Null where the columns do not tell the values apart, or a value falls below 0. */
function fitted(
  columns: Float64Array,
  count: number,
  wanted: Float64Array,
  active: readonly number[],
): Fit | null {
  const n = active.length;
  const rows = wanted.length;
  const column = (k: number, i: number): number => columns[i * count + k]!;
  const size = Array.from({ length: count }, (_, k) =>
    Math.hypot(...Array.from({ length: rows }, (_, i) => column(k, i))),
  );
  const normal = new Float64Array(n * n);
  const right = new Float64Array(n);
  for (const [a, ka] of active.entries())
    for (let i = 0; i < rows; i++) {
      const scaled = column(ka, i) / size[ka]!;
      right[a] = right[a]! + scaled * wanted[i]!;
      for (const [b, kb] of active.entries())
        normal[a * n + b] = normal[a * n + b]! + (scaled * column(kb, i)) / size[kb]!;
    }
  const factor = choleskyDense(normal, n);
  if (!factor.ok) return null;
  const x = choleskySolve(factor.value, n, right);
  if (x.some((v) => v < 0)) return null;
  const inverse = choleskySolve(
    factor.value,
    n,
    Float64Array.from({ length: n * n }, (_, i) => (i % (n + 1) === 0 ? 1 : 0)),
    n,
  );
  const values = new Array<number>(count).fill(0);
  // one that is 0 could be as large as it would be alone
  const sigma = size.map((s) => 1 / s);
  for (const [a, k] of active.entries()) {
    values[k] = x[a]! / size[k]!;
    sigma[k] = Math.sqrt(inverse[a * n + a]!) / size[k]!;
  }
  let squares = 0;
  for (let i = 0; i < rows; i++)
    squares += (wanted[i]! - values.reduce((sum, v, k) => sum + v * column(k, i), 0)) ** 2;
  return { values, sigma, active, squares };
}
