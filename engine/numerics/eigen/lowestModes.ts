/** The lowest modes of K x = lambda M x for large sparse matrices. */
import { type Context, done, failed, invariant, type Outcome } from "../outcome.ts";
import { eliminationOrdered } from "../sparse/eliminationOrdered.ts";
import { type CholeskyFactor, factorize } from "../sparse/factorize.ts";
import type { SupernodePartition } from "../sparse/supernodes.ts";
import { type SparseSymmetric, symmetricCombination } from "../sparse/symmetric.ts";
import { blockLanczos } from "./blockLanczos.ts";
import { normaliseAndCheck } from "./normaliseAndCheck.ts";
import { ritzVectors } from "./ritzVectors.ts";
import { generalizedSymmetricEigen, symmetricEigen } from "./symmetricEigen.ts";

/**
 * count pairs: values ascending; vectors count x n, mode after mode, x' M x = 1, sign arbitrary but repeatable;
 * residuals |K x - lambda M x| / |(lambda + shift) M x| in the plain Euclidean norm, computed from the final vectors.
 */
export interface Eigenpairs {
  readonly values: Float64Array;
  readonly vectors: Float64Array;
  readonly residuals: Float64Array;
}

export interface LowestModesOptions {
  readonly count: number;
  /** K + shift M is factored (shift >= 0, in the unit of lambda): needed where K alone is singular (free bodies). */
  readonly shift?: number;
  /** Relative residual of the inverse problem at which a pair counts as converged; default 1e-9. */
  readonly tolerance?: number;
  /** Node of each degree of freedom, for the elimination order. */
  readonly group?: Uint32Array;
  /** analysePattern of K (M's pattern must lie within), to be used again. */
  readonly analysis?: SupernodePartition;
}

/** A pair that leaves more of its force unbalanced than this is not a mode, whatever the iteration thought. */
const largestResidual = 1e-3;

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
  const { n } = k;
  const { count, shift = 0, tolerance = 1e-9 } = o;
  invariant(m.n === n, () => `stiffness of order ${n}, mass of order ${m.n}`);
  invariant(shift >= 0 && count >= 1, () => `shift ${shift}, ${count} modes`);
  const shifted = shift === 0 ? k : symmetricCombination(k, 1, m, shift);
  const factor = factorize(shifted, {
    ...(o.group && { group: o.group }),
    ...(o.analysis && { analysis: o.analysis }),
  });
  if (!factor.ok) return factor;
  if (n <= Math.max(40, 3 * count)) return allModesDense(k, m, shifted, factor.value, count, shift);

  const { partition } = factor.value;
  const mass = eliminationOrdered(m, partition);
  const space = blockLanczos(
    factor.value,
    mass,
    { count, tolerance, largestBasis: 6 * count + 120 },
    context,
  );
  if (!space.ok) return space;
  const { size, projected } = space.value;
  const { values: theta, vectors: s } = symmetricEigen(projected, size);
  if (size < count || !(theta[size - count] > 1e-13 * theta[size - 1])) return tooFew(count);
  const vectors = ritzVectors(space.value, theta, s, count, partition.positionOf);
  const values = Float64Array.from({ length: count }, (_, i) => 1 / theta[size - 1 - i] - shift);
  const residuals = normaliseAndCheck(k, m, factor.value, values, vectors, shift);
  const bad = residuals.findIndex((r) => !(r < largestResidual));
  if (bad >= 0) {
    return failed(
      "not-converged",
      `pair ${bad + 1} of ${count} leaves a residual of ${residuals[bad].toExponential(1)}`,
    );
  }
  context.progress(1);
  return done({ values, vectors, residuals });
}

function tooFew(count: number): Outcome<never> {
  return failed("too-few-modes", `the mass matrix carries fewer than ${count} independent motions`);
}

/** Small systems: the whole spectrum of M x = theta (K + shift M) x, which stands a singular M. */
function allModesDense(
  k: SparseSymmetric,
  m: SparseSymmetric,
  shifted: SparseSymmetric,
  factor: CholeskyFactor,
  count: number,
  shift: number,
): Outcome<Eigenpairs> {
  const { n } = k;
  const pairs = generalizedSymmetricEigen(denseOf(m), denseOf(shifted), n);
  if (!pairs.ok) return pairs;
  const theta = pairs.value.values;
  if (n < count || !(theta[n - count] > 1e-13 * theta[n - 1])) return tooFew(count);
  const values = new Float64Array(count);
  const vectors = new Float64Array(count * n);
  for (let i = 0; i < count; i++) {
    values[i] = 1 / theta[n - 1 - i] - shift;
    vectors.set(pairs.value.vectors.subarray((n - 1 - i) * n, (n - i) * n), i * n);
  }
  return done({ values, vectors, residuals: normaliseAndCheck(k, m, factor, values, vectors, shift) });
}

function denseOf(a: SparseSymmetric): Float64Array {
  const { n } = a;
  const out = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      out[a.rowIndex[p] * n + j] = a.values[p];
      out[j * n + a.rowIndex[p]] = a.values[p];
    }
  }
  return out;
}
