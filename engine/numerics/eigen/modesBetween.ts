/** The modes of one slice of the spectrum, with the proof that none is missed. */
import { type Context, done, failed, invariant, type Outcome } from "../outcome.ts";
import { pivotFloor } from "../sparse/factorize.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";
import { denseModes } from "./denseModes.ts";
import { basisFor, type Eigenpairs, iteratedModes } from "./iteratedModes.ts";
import { factorNear, type Pencil, type PencilOptions, pencil, steadyFloor } from "./pencil.ts";

/**
 * Eigenpairs with from <= lambda < to (as Eigenpairs), and how they were counted. Plain data.
 */
export interface ModeSlice extends Eigenpairs {
  /** Sturm: eigenvalues below the slice's lower end, counted by a factorisation. */
  readonly below: number;
  /** Where the inverse was taken: a factor of K - shift M. */
  readonly shift: number;
  readonly ran: "wasm" | "typescript";
}

export interface SliceOptions extends PencilOptions {
  /** Ends of the slice, lambda (rad2/s2), 0 <= from < to. */
  readonly from: number;
  readonly to: number;
  /** Default: the middle of the slice. Moved a little where the factor would be unsteady there. */
  readonly shift?: number;
  /**
   * Eigenvalues below the ends, where the caller has counted them already (countBelow, or the neighbouring slice): each
   * spares a factorisation.
   */
  readonly belowFrom?: number;
  readonly belowTo?: number;
  /** Relative residual of the inverse problem at which a pair counts as converged; default 1e-9. */
  readonly tolerance?: number;
}

/** Below so many unknowns to a mode the dense solver takes over. */
const denseUpTo = 40;

/**
 * All eigenpairs of K x = lambda M x in the slice: Sturm counts at its ends say how many there are on each side of the
 * shift, and block Lanczos around the shift goes on until it has them all. K and M positive semidefinite.
 * Failures: 'not-converged', 'singular' (no steady factor near the shift), 'cancelled'.
 */
export function modesBetween(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: SliceOptions,
  context: Context,
): Outcome<ModeSlice> {
  const { from, to, tolerance = 1e-9 } = o;
  invariant(from >= 0 && to > from, () => `a slice from ${from} to ${to}`);
  invariant(o.shift === undefined || (o.shift > from && o.shift < to), () => `shift ${o.shift} outside`);
  let p = pencil(k, m, o, Math.min(k.n, basisFor(likelyCount)), context);
  const atFrom = o.belowFrom ?? (from === 0 ? 0 : null);
  const lowEnd = atFrom === null ? countAt(p, from, context) : done(atFrom);
  if (!lowEnd.ok) return lowEnd;
  const highEnd = o.belowTo === undefined ? countAt(p, to, context) : done(o.belowTo);
  if (!highEnd.ok) return highEnd;
  const low = lowEnd.value;
  const count = highEnd.value - low;
  invariant(count >= 0, () => `${low} eigenvalues below ${from}, ${low + count} below ${to}`);
  const facts = { below: low, shift: o.shift ?? 0.5 * (from + to), ran: p.kernels.name };
  if (count === 0) return done({ ...nothing(), ...facts });
  if (k.n <= Math.max(denseUpTo, 3 * count)) return denseSlice(k, m, low, count, to, facts);
  if (basisFor(count) > p.largestBasis && p.largestBasis < k.n)
    p = pencil(k, m, o, Math.min(k.n, basisFor(count)), context);
  const factored = factorNear(p, facts.shift, 1e-3 * (to - from), steadyFloor, context);
  if (!factored.ok) return factored;
  const { sigma, below: belowShift } = factored.value;
  const left = belowShift - low;
  invariant(left >= 0 && left <= count, () => `${low}, ${belowShift} and ${low + count} eigenvalues below`);
  const pairs = iteratedModes(p, sigma, { below: left, above: count - left, tolerance }, context);
  if (!pairs.ok) return pairs;
  return done({ ...ascending(pairs.value, k.n), ...facts, shift: sigma });
}

/** Room for so many modes is made before they are counted; where there are more, it is made again. */
export const likelyCount = 130;

export function nothing(): Eigenpairs {
  return { values: new Float64Array(0), vectors: new Float64Array(0), residuals: new Float64Array(0) };
}

/** Eigenvalues below lambda. The factor is replaced. */
export function countAt(p: Pencil, lambda: number, context: Context): Outcome<number> {
  const counted = factorNear(p, lambda, 1e-9 * lambda, pivotFloor, context);
  return counted.ok ? done(counted.value.below) : counted;
}

/** Number of eigenvalues of K x = lambda M x below lambda, by the inertia of K - lambda M (Sylvester). */
export function countBelow(
  k: SparseSymmetric,
  m: SparseSymmetric,
  lambda: number,
  o: PencilOptions,
  context: Context,
): Outcome<number> {
  return countAt(pencil(k, m, o, 0, context), lambda, context);
}

function denseSlice(
  k: SparseSymmetric,
  m: SparseSymmetric,
  below: number,
  count: number,
  to: number,
  facts: { readonly below: number; readonly shift: number; readonly ran: "wasm" | "typescript" },
): Outcome<ModeSlice> {
  const all = denseModes(k, m, to); // K + to M is positive definite also for free bodies
  if (!all.ok) return all;
  const { values, vectors, residuals } = all.value;
  if (values.length < below + count)
    return failed("not-converged", `${values.length} of ${below + count} eigenvalues counted`);
  return done({
    values: values.slice(below, below + count),
    vectors: vectors.slice(below * k.n, (below + count) * k.n),
    residuals: residuals.slice(below, below + count),
    ...facts,
  });
}

/** In ascending order (Ritz values of a slice come close to it, but a close pair may be crossed). */
function ascending(pairs: Eigenpairs, n: number): Eigenpairs {
  const order = Array.from(pairs.values.keys()).sort((a, b) => pairs.values[a] - pairs.values[b]);
  if (order.every((from, to) => from === to)) return pairs;
  const vectors = new Float64Array(pairs.vectors.length);
  order.forEach((from, to) => {
    vectors.set(pairs.vectors.subarray(from * n, from * n + n), to * n);
  });
  return {
    values: Float64Array.from(order, (i) => pairs.values[i]),
    vectors,
    residuals: Float64Array.from(order, (i) => pairs.residuals[i]),
  };
}
