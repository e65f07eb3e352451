/** The matrices K and M of one eigenproblem, laid out in the memory of the kernels for factors of K - sigma M. */
import type { Kernels } from "../kernels/kernels.ts";
import { typescriptKernels } from "../kernels/kernels.ts";
import { type Context, done, failed, invariant, type Outcome } from "../outcome.ts";
import { eliminationOrdered } from "../sparse/eliminationOrdered.ts";
import { entryPlaces } from "../sparse/entryPlaces.ts";
import { factorInto, type MatrixTerm } from "../sparse/factorInto.ts";
import { analysePattern, pivotFloor } from "../sparse/factorize.ts";
import { type FactorRoom, factorDoubles, factorRoom, factorSizes } from "../sparse/factorRoom.ts";
import { blockDoubles } from "../sparse/solveFactored.ts";
import type { SupernodePartition } from "../sparse/supernodes.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";
import { lanczosDoubles } from "./blockLanczos.ts";
import { type PlacedMatrix, placedDoubles, placeMatrix } from "./placedMatrix.ts";
import { ritzDoubles } from "./ritzVectors.ts";

export interface PencilOptions {
  /** Node of each degree of freedom, for the elimination order. */
  readonly group?: Uint32Array;
  /** analysePattern of K (M's pattern must lie within), to be used again. */
  readonly analysis?: SupernodePartition;
}

export interface Pencil {
  readonly k: SparseSymmetric;
  readonly m: SparseSymmetric;
  readonly kernels: Kernels;
  readonly room: FactorRoom;
  readonly largestBasis: number;
  /** M in elimination order; K and M as they came. */
  readonly mass: PlacedMatrix;
  readonly placedK: PlacedMatrix;
  readonly placedM: PlacedMatrix;
  readonly terms: readonly [MatrixTerm, MatrixTerm];
}

/** Room for a factor of K - sigma M and for a Lanczos basis of so many vectors (0: for counting only). */
export function pencil(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: PencilOptions,
  largestBasis: number,
  context: Context,
): Pencil {
  invariant(m.n === k.n, () => `stiffness of order ${k.n}, mass of order ${m.n}`);
  const partition = o.analysis ?? analysePattern(k, o.group);
  invariant(partition.n === k.n, () => `an analysis of ${partition.n} rows for ${k.n}`);
  const sizes = factorSizes(partition);
  const ordered = eliminationOrdered(m, partition);
  const working =
    largestBasis === 0
      ? blockDoubles(partition.size)
      : lanczosDoubles(partition.size, largestBasis) + ritzDoubles(partition.size, k.n, largestBasis);
  const kernels = (context.kernels ?? typescriptKernels)(
    factorDoubles(partition, sizes) +
      placedDoubles(ordered) +
      placedDoubles(k) +
      placedDoubles(m) +
      Math.max(sizes.stack, working) +
      64,
  );
  const room = factorRoom(partition, sizes, kernels);
  const places = entryPlaces(k, partition, sizes.valueStart);
  const samePattern = m.rowIndex === k.rowIndex && m.colStart === k.colStart;
  return {
    k,
    m,
    kernels,
    room,
    largestBasis,
    mass: placeMatrix(kernels, ordered),
    placedK: placeMatrix(kernels, k),
    placedM: placeMatrix(kernels, m),
    terms: [
      { matrix: k, factor: 1, places },
      {
        matrix: m,
        factor: 0,
        places: samePattern ? places : entryPlaces(m, partition, sizes.valueStart),
      },
    ],
  };
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
  const [k, m] = p.terms;
  const facts = factorInto(
    p.room,
    sigma === 0 ? [k] : [k, { ...m, factor: -sigma }],
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
