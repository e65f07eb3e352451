/** All modes below a frequency, rigid motions included, and the factor they were found with. */
import { type Context, done, failed, invariant, type Outcome } from "../outcome.ts";
import { solveFactored } from "../sparse/solveFactored.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";
import { denseModes } from "./denseModes.ts";
import { basisFor, type Eigenpairs, iteratedModes } from "./iteratedModes.ts";
import { countAt, likelyCount, nothing } from "./modesBetween.ts";
import { factorAt, type PencilOptions, pencil } from "./pencil.ts";

export interface ModesBelow extends Eigenpairs {
  /** s of the factor of K + s M that is kept. */
  readonly shift: number;
  /** x = (K + shift M)^-1 b: n x columns, column after column. */
  readonly solve: (b: Float64Array, columns: number) => Float64Array;
  readonly ran: "wasm" | "typescript";
}

export interface ModesBelowOptions extends PencilOptions {
  /** All eigenvalues below this lambda (rad2/s2) are found. */
  readonly to: number;
  /**
   * s of K + s M (> 0 for a free body), to which K is made positive definite; default to / 1000, a thirtieth of the
   * highest frequency. 0 for a body that is held.
   */
  readonly shift?: number;
  /** Number of eigenvalues below `to`, where the caller has counted them: spares a factorisation. */
  readonly belowTo?: number;
  readonly tolerance?: number;
}

/**
 * All eigenpairs of K x = lambda M x below `to`, their number proved by a Sturm count; K and M positive semidefinite,
 * K + shift M definite. Rigid motions come out with lambda = 0 to rounding. Failures: 'singular' or
 * 'not-positive-definite' naming the degree of freedom that nothing holds, 'not-converged', 'cancelled'.
 */
export function modesBelow(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: ModesBelowOptions,
  context: Context,
): Outcome<ModesBelow> {
  const { to, shift = 1e-3 * o.to, tolerance = 1e-9 } = o;
  invariant(to > 0 && shift >= 0, () => `modes below ${to}, shift ${shift}`);
  let p = pencil(k, m, o, Math.min(k.n, basisFor(likelyCount)), context);
  const counted = o.belowTo === undefined ? countAt(p, to, context) : done(o.belowTo);
  if (!counted.ok) return counted;
  const count = counted.value;
  if (basisFor(count) > p.largestBasis && p.largestBasis < k.n)
    p = pencil(k, m, o, Math.min(k.n, basisFor(count)), context);
  const factored = factorAt(p, -shift, { definite: true }, context);
  if (!factored.ok) return factored;
  const { room, kernels } = p;
  const kept = {
    shift,
    solve: (b: Float64Array, columns: number): Float64Array =>
      solveFactored({ ...room, n: k.n, negatives: 0, ran: kernels.name }, b, columns),
    ran: kernels.name,
  };
  if (count === 0) return done({ ...nothing(), ...kept });
  if (k.n <= Math.max(40, 3 * count)) {
    const all = denseModes(k, m, shift);
    if (!all.ok) return all;
    const { values, vectors, residuals } = all.value;
    if (values.length < count)
      return failed("not-converged", `${values.length} of ${count} eigenvalues counted`);
    return done({
      values: values.slice(0, count),
      vectors: vectors.slice(0, count * k.n),
      residuals: residuals.slice(0, count),
      ...kept,
    });
  }
  const pairs = iteratedModes(p, -shift, { below: 0, above: count, tolerance }, context);
  return pairs.ok ? done({ ...pairs.value, ...kept }) : pairs;
}
