/** One Lanczos run around the shift that stands factored, and the pairs it yields. */
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { blockLanczos } from "./blockLanczos.ts";
import type { Pencil } from "./pencil.ts";
import { ritzVectors } from "./ritzVectors.ts";
import { symmetricEigen } from "./symmetricEigen.ts";

/**
 * values ascending; vectors count x n, mode after mode, x' M x = 1, sign arbitrary but repeatable; residuals
 * |K x - lambda M x| / |(lambda + offset) M x| in the plain Euclidean norm, computed from the final vectors, offset
 * being what was added to keep rigid motions out of the way of the factor.
 */
export interface Eigenpairs {
  readonly values: Float64Array;
  readonly vectors: Float64Array;
  readonly residuals: Float64Array;
}

/** A pair that leaves more of its force unbalanced than this is not a mode, whatever the iteration thought. */
export const largestResidual = 1e-3;

/** Which eigenvalues are wanted: so many next below the shift and so many next above it. */
export interface Wanted {
  readonly below: number;
  readonly above: number;
  /** Relative residual |A x - theta x| / |theta|, in the product of M, at which a pair counts as converged. */
  readonly tolerance: number;
}

/** Room for these vectors is always enough; more is a sign of something wrong. */
export function basisFor(count: number): number {
  return 6 * count + 120;
}

/**
 * The wanted pairs around sigma, at which the pencil stands factored. Failures: 'not-converged', 'too-few-modes',
 * 'no-mass', 'cancelled'.
 */
export function iteratedModes(
  p: Pencil,
  sigma: number,
  wanted: Wanted,
  context: Context,
): Outcome<Eigenpairs> {
  const { below, above, tolerance } = wanted;
  const count = below + above;
  const mark = p.kernels.mark();
  const goal = {
    expected: count,
    largestBasis: Math.min(p.largestBasis, basisFor(count)),
    tolerance,
    worst: (theta: Float64Array, residual: Float64Array): number => worstOf(theta, residual, below, above),
  };
  const space = blockLanczos(p.room, p.mass, goal, context);
  if (!space.ok) {
    p.kernels.release(mark);
    return space;
  }
  const { size, projected } = space.value;
  const { values: theta, vectors: s } = symmetricEigen(projected, size);
  const picked = [
    ...Array.from({ length: below }, (_, i) => below - 1 - i),
    ...Array.from({ length: above }, (_, i) => size - 1 - i),
  ];
  const largest = Math.max(Math.abs(theta[0]), Math.abs(theta[size - 1]));
  const missing =
    size < count || picked.some((i, at) => !((at < below ? -theta[i] : theta[i]) > 1e-13 * largest));
  if (missing) {
    p.kernels.release(mark);
    return failed("too-few-modes", `the mass matrix carries fewer than ${count} independent motions`);
  }
  const chosen = Float64Array.from(picked, (i) => theta[i]);
  const values = chosen.map((t) => sigma + 1 / t);
  const found = ritzVectors(p, space.value, s, picked, chosen, values, Math.max(0, -sigma));
  p.kernels.release(mark);
  const bad = found.residuals.findIndex((r) => !(r < largestResidual));
  if (bad >= 0) {
    const size = found.residuals[bad].toExponential(1);
    return failed("not-converged", `pair ${bad + 1} of ${count} leaves a residual of ${size}`);
  }
  context.progress(1);
  return done({ values, ...found });
}

/** Largest relative residual of what is wanted; infinite while fewer values than wanted show on a side. */
function worstOf(theta: Float64Array, residual: Float64Array, below: number, above: number): number {
  const n = theta.length;
  if (n < below + above) return Number.POSITIVE_INFINITY;
  let worst = 0;
  for (let i = 0; i < below; i++) {
    if (!(theta[i] < 0)) return Number.POSITIVE_INFINITY;
    worst = Math.max(worst, residual[i] / -theta[i]);
  }
  for (let i = n - above; i < n; i++) {
    if (!(theta[i] > 0)) return Number.POSITIVE_INFINITY;
    worst = Math.max(worst, residual[i] / theta[i]);
  }
  return worst;
}
