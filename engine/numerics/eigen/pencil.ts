/** The matrices K and M of one eigenproblem, laid out in the memory of the kernels for factors of K - sigma M. */

import { invariant } from "../invariant.ts";
import { placeOf } from "../kernels/kernelMemory.ts";
import type { Kernels } from "../kernels/kernels.ts";
import { typescriptKernels } from "../kernels/kernels.ts";
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { factorInto } from "../sparse/factorInto.ts";
import { analysePattern, type PatternAnalysis, patternIn, pivotFloor } from "../sparse/factorize.ts";
import {
  type FactorRoom,
  factorDoubles,
  factorRoom,
  factorSizes,
  stackDoubles,
} from "../sparse/factorRoom.ts";
import { type OrderedPattern, orderedValues } from "../sparse/orderedPattern.ts";
import { blockDoubles } from "../sparse/solveFactored.ts";
import { type SparseSymmetric, symmetricMultiply } from "../sparse/symmetric.ts";
import { lanczosDoubles } from "./blockLanczos.ts";
import { type PlacedMatrix, placeCompact } from "./placedMatrix.ts";
import { ritzDoubles } from "./ritzDoubles.ts";

export interface PencilOptions {
  /** Node of each degree of freedom, for the elimination order. */
  readonly group?: Uint32Array;
  /** analysePattern of K (M's pattern must lie within), to be used again. */
  readonly analysis?: PatternAnalysis;
  /**
   * Motions of a free body, K x = 0: count x n, any basis of them. They are kept out of the iteration, which is slow to
   * find an eigenvalue of higher multiplicity than its blocks are wide, and returned as the modes they are.
   */
  readonly rigid?: Float64Array;
}

export interface Pencil {
  /** Unknowns. */
  readonly n: number;
  readonly kernels: Kernels;
  readonly room: FactorRoom;
  readonly largestBasis: number;
  readonly pattern: OrderedPattern;
  /** Values of K and of M on the pattern, in the memory of the kernels. */
  readonly kValues: Float64Array;
  readonly mValues: Float64Array;
  /** K, and M without its zeros, in elimination order. */
  readonly stiffness: PlacedMatrix;
  readonly mass: PlacedMatrix;
  /** M-orthonormal rigid motions, vector after vector in the order of the unknowns. */
  readonly rigid: Float64Array;
}

/**
 * Room for a factor of K - sigma M, for a Lanczos basis of so many vectors (0: for counting only) and for so many doubles
 * more.
 */
export function pencil(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: PencilOptions,
  largestBasis: number,
  context: Context,
  more = 0,
): Pencil {
  invariant(m.n === k.n, () => `stiffness of order ${k.n}, mass of order ${m.n}`);
  const partition = o.analysis ?? analysePattern(k, o.group);
  invariant(partition.n === k.n, () => `an analysis of ${partition.n} rows for ${k.n}`);
  const sizes = factorSizes(partition);
  const pattern = patternIn(k, partition);
  const working =
    largestBasis === 0
      ? blockDoubles(partition.size)
      : lanczosDoubles(partition.size, largestBasis) + ritzDoubles(partition.size, largestBasis);
  const entries = k.rowIndex.length;
  const kernels = (context.kernels ?? typescriptKernels)(
    factorDoubles(partition, sizes) +
      4 * entries +
      partition.size +
      Math.max(stackDoubles(sizes), working) +
      more +
      64,
  );
  const room = factorRoom(partition, sizes, kernels);
  const kValues = orderedValues(k, k, pattern, kernels.allocate(entries));
  const mValues = orderedValues(m, k, pattern, kernels.allocate(entries));
  const colStart = kernels.allocateIndices(pattern.colStart.length);
  const rowIndex = kernels.allocateIndices(entries);
  colStart.set(pattern.colStart);
  rowIndex.set(pattern.rowIndex);
  const stiffness = {
    n: partition.size,
    colStart: placeOf(colStart),
    rowIndex: placeOf(rowIndex),
    values: placeOf(kValues),
  };
  const zeros = mValues.reduce((count, v) => (v === 0 ? count + 1 : count), 0);
  const mass =
    zeros < 0.1 * entries
      ? { ...stiffness, values: placeOf(mValues) }
      : placeCompact(kernels, pattern, mValues);
  const rigid = orthonormal(m, o.rigid ?? new Float64Array(0));
  return { n: k.n, kernels, room, largestBasis, pattern, kValues, mValues, stiffness, mass, rigid };
}

/** The vectors made orthonormal in the product of M, one after the other and twice over. */
function orthonormal(m: SparseSymmetric, vectors: Float64Array): Float64Array {
  const { n } = m;
  const out = vectors.slice();
  for (let i = 0; i < out.length; i += n) {
    const x = out.subarray(i, i + n);
    for (let pass = 0; pass < 2; pass++) {
      const mx = symmetricMultiply(m, x);
      for (let j = 0; j < i; j += n) {
        let share = 0;
        for (let r = 0; r < n; r++) share += out[j + r] * mx[r];
        for (let r = 0; r < n; r++) x[r] -= share * out[j + r];
      }
    }
    const size = Math.sqrt(symmetricMultiply(m, x).reduce((sum, v, r) => sum + v * x[r], 0));
    invariant(size > 0, () => `rigid motion ${i / n + 1} depends on those before it`);
    for (let r = 0; r < n; r++) x[r] /= size;
  }
  return out;
}

/**
 * Factors K - sigma M in the pencil's room, replacing what was there. Returns the number of eigenvalues below sigma
 * (Sylvester). definite: it must be none. floor: the smallest pivot taken, as a share of the diagonal it came from.
 */
export function factorAt(
  p: Pencil,
  sigma: number,
  demands: { readonly definite: boolean; readonly floor?: number },
  context: Context,
): Outcome<number> {
  const facts = factorInto(
    p.room,
    {
      pattern: p.pattern,
      ordered: true,
      terms: [
        { values: p.kValues, factor: 1 },
        { values: p.mValues, factor: -sigma },
      ],
    },
    { definite: demands.definite, pivotFloor: demands.floor ?? pivotFloor },
    context,
  );
  return facts.ok ? done(facts.value.negatives) : facts;
}

/** Without pivoting, a factor with smaller pivots than this has lost too many digits to iterate with. */
export const steadyFloor = 1e-10;

/**
 * factorAt for a sigma inside the spectrum: where a pivot all but vanishes, sigma is moved by up to a few times `step`,
 * to either side in turn. Fails with 'singular' when no place nearby serves.
 */
export function factorNear(
  p: Pencil,
  sigma: number,
  step: number,
  floor: number,
  context: Context,
): Outcome<{ readonly sigma: number; readonly below: number }> {
  let last = failed("singular", "not tried");
  for (const move of [0, 1, -1, 2.3, -2.3, 4.1, -4.1]) {
    const at = sigma + move * step;
    const found = factorAt(p, at, { definite: false, floor }, context);
    if (found.ok) return done({ sigma: at, below: found.value });
    if (found.reason !== "singular") return found;
    last = found;
  }
  return last;
}
