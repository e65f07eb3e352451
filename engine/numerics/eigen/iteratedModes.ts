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

/** Which eigenvalues are wanted on each side of the shift: so many, or all down (up) to an end of the slice. */
export interface Wanted {
  readonly left: Side;
  readonly right: Side;
  /** Relative residual |A x - theta x| / |theta|, in the product of M, at which a pair counts as converged. */
  readonly tolerance: number;
  /** About how many there will be. */
  readonly expected: number;
  /** Added to lambda in the denominator of the residuals, > 0 where there are rigid motions. */
  readonly offset: number;
}

export type Side = { readonly count: number } | { readonly end: number };

export interface IteratedModes extends Eigenpairs {
  /** How many of the pairs lie below the shift. */
  readonly left: number;
}

/** Room for these vectors is always enough; more is a sign of something wrong. */
export function basisFor(count: number): number {
  return 6 * count + 120;
}

/**
 * The wanted pairs around sigma, at which the pencil stands factored. Where a side is given by its end, the iteration
 * goes on until a value beyond the end shows as well. Failures: 'not-converged', 'too-few-modes', 'no-mass', 'cancelled'.
 */
export function iteratedModes(
  p: Pencil,
  sigma: number,
  wanted: Wanted,
  context: Context,
): Outcome<IteratedModes> {
  const mark = p.kernels.mark();
  const outcome = iterated(p, sigma, wanted, context);
  p.kernels.release(mark);
  return outcome;
}

function iterated(p: Pencil, sigma: number, wanted: Wanted, context: Context): Outcome<IteratedModes> {
  const goal = {
    expected: wanted.expected,
    largestBasis: Math.min(p.largestBasis, basisFor(wanted.expected)),
    tolerance: wanted.tolerance,
    worst: (theta: Float64Array, residual: Float64Array): number =>
      Math.max(
        sideOf(theta, residual, sigma, wanted.left, -1).worst,
        sideOf(theta, residual, sigma, wanted.right, 1).worst,
      ),
  };
  const space = blockLanczos(p.room, p.mass, p.rigid, goal, context);
  if (!space.ok) return space;
  const { size, projected } = space.value;
  const { values: theta, vectors: s } = symmetricEigen(projected, size);
  const converged = new Float64Array(size); // the iteration has seen to that
  const below = sideOf(theta, converged, sigma, wanted.left, -1).count;
  const above = sideOf(theta, converged, sigma, wanted.right, 1).count;
  const count = below + above;
  const picked = [
    ...Array.from({ length: below }, (_, i) => i),
    ...Array.from({ length: above }, (_, i) => size - 1 - i),
  ];
  const largest = Math.max(Math.abs(theta[0]), Math.abs(theta[size - 1]));
  const carried = (i: number, at: number): boolean =>
    i >= 0 && i < size && (at < below ? -theta[i] : theta[i]) > 1e-13 * largest;
  if (size < count || !picked.every(carried))
    return failed("too-few-modes", `the mass matrix carries fewer than ${count} independent motions`);
  const lambda = (i: number): number => sigma + 1 / theta[i];
  picked.sort((i, j) => lambda(i) - lambda(j));
  const chosen = Float64Array.from(picked, (i) => theta[i]);
  const values = Float64Array.from(picked, lambda);
  const found = ritzVectors(p, space.value, s, picked, chosen, values, wanted.offset);
  const bad = found.residuals.findIndex((r) => !(r < largestResidual));
  if (bad >= 0) {
    const left = found.residuals[bad].toExponential(1);
    return failed("not-converged", `pair ${bad + 1} of ${count} leaves a residual of ${left}`);
  }
  context.progress(1);
  return done({ values, ...found, left: below });
}

/** A value beyond the end of a slice is believed to lie there once its residual has come down to this share of it. */
const believable = 1e-3;

/**
 * How many values on one side (sign of theta: -1 below the shift, 1 above it) are wanted, and the largest relative
 * residual among them; infinite while it is not clear that all of them show.
 */
function sideOf(
  theta: Float64Array,
  residual: Float64Array,
  sigma: number,
  side: Side,
  sign: -1 | 1,
): { readonly count: number; readonly worst: number } {
  const n = theta.length;
  const at = (i: number): number => (sign < 0 ? i : n - 1 - i);
  const relative = (i: number): number => residual[at(i)] / (sign * theta[at(i)]);
  let worst = 0;
  let i = 0;
  for (; i < n && sign * theta[at(i)] > 0; i++) {
    if ("count" in side) {
      if (i === side.count) return { count: i, worst };
    } else if (sign * (sigma + 1 / theta[at(i)] - side.end) >= 0) {
      return { count: i, worst: relative(i) < believable ? worst : Number.POSITIVE_INFINITY };
    }
    worst = Math.max(worst, relative(i));
  }
  if ("count" in side)
    return { count: side.count, worst: i === side.count ? worst : Number.POSITIVE_INFINITY };
  return { count: i, worst: Number.POSITIVE_INFINITY };
}
