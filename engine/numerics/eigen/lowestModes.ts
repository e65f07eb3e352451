/** The lowest modes of K x = lambda M x for large sparse matrices. */
import { invariant } from "../invariant.ts";
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { factorize } from "../sparse/factorize.ts";
import { type SparseSymmetric, symmetricCombination } from "../sparse/symmetric.ts";
import { denseModes } from "./denseModes.ts";
import { basisFor, type Eigenpairs, iteratedModes } from "./iteratedModes.ts";
import { factorAt, type PencilOptions, pencil } from "./pencil.ts";

export interface LowestModesOptions extends PencilOptions {
  readonly count: number;
  /** K + shift M is factored (shift >= 0, in the unit of lambda): needed where K alone is singular (free bodies). */
  readonly shift?: number;
  /** Relative residual of the inverse problem at which a pair counts as converged; default 1e-9. */
  readonly tolerance?: number;
}

/**
 * The `count` lowest pairs by shift-invert block Lanczos. K + shift M must be positive definite, M positive semidefinite
 * (a mass matrix without drilling inertia is fine). Multiple values are found up to any multiplicity the block of four
 * sees directly, higher ones as rounding lets them in. Failures: 'not-positive-definite' naming the degree of freedom,
 * 'not-converged', 'too-few-modes' (M carries fewer), 'cancelled'.
 */
export function lowestModes(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: LowestModesOptions,
  context: Context,
): Outcome<Eigenpairs> {
  const { count, shift = 0, tolerance = 1e-9 } = o;
  invariant(m.n === k.n, () => `stiffness of order ${k.n}, mass of order ${m.n}`);
  invariant(shift >= 0 && count >= 1, () => `shift ${shift}, ${count} modes`);
  if (k.n <= Math.max(40, 3 * count)) return lowestDense(k, m, o, context);
  const p = pencil(k, m, o, basisFor(count), context);
  const factored = factorAt(p, -shift, { definite: true }, context);
  if (!factored.ok) return factored;
  return iteratedModes(
    p,
    -shift,
    { left: { count: 0 }, right: { count }, tolerance, expected: count, offset: shift },
    context,
  );
}

function lowestDense(
  k: SparseSymmetric,
  m: SparseSymmetric,
  { count, shift = 0 }: LowestModesOptions,
  context: Context,
): Outcome<Eigenpairs> {
  // The sparse factor first: it names the degree of freedom that is not held.
  const held = factorize(symmetricCombination(k, 1, m, shift), {}, context);
  if (!held.ok) return held;
  const all = denseModes(k, m, shift);
  if (!all.ok) return all;
  const { values, vectors, residuals } = all.value;
  if (values.length < count)
    return failed("too-few-modes", `the mass matrix carries fewer than ${count} independent motions`);
  return done({
    values: values.slice(0, count),
    vectors: vectors.slice(0, count * k.n),
    residuals: residuals.slice(0, count),
  });
}
