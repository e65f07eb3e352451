/** Sparse symmetric factorisation P A P' = L D L' (square-root-free Cholesky when A is positive definite). */

import { invariant } from "../invariant.ts";
import { typescriptKernels } from "../kernels/kernels.ts";
import { type Context, done, type Outcome, quiet } from "../outcome.ts";
import { factorInto } from "./factorInto.ts";
import { type FactorRoom, factorDoubles, factorRoom, factorSizes, stackDoubles } from "./factorRoom.ts";
import { groupGraph } from "./groupGraph.ts";
import { minimumDegreeOrder } from "./minimumDegree.ts";
import { type OrderedPattern, orderedPattern, type Pattern, valuesOn } from "./orderedPattern.ts";
import { blockDoubles } from "./solveFactored.ts";
import { type SupernodePartition, supernodePartition } from "./supernodes.ts";
import type { SparseSymmetric } from "./symmetric.ts";

/** L and D stand in the memory of the kernels that made them, and are used there. */
export interface SparseFactor extends FactorRoom {
  readonly n: number;
  /** The pattern that was factored, as it came and in elimination order. */
  readonly base: SparseSymmetric;
  readonly pattern: OrderedPattern;
  readonly definite: boolean;
  /** Negative pivots: eigenvalues of A below zero (Sylvester's law of inertia). */
  readonly negatives: number;
  /** Which twin of the kernels did the work. */
  readonly ran: "wasm" | "typescript";
}

export interface FactorizeOptions {
  /** Node of each degree of freedom: the elimination order is sought on the graph of nodes. */
  readonly group?: Uint32Array;
  /** An analysis of a matrix with the same pattern (or a larger one), to be used again. */
  readonly analysis?: PatternAnalysis;
  /** Pivots may be negative too: A need not be positive definite, and `negatives` counts them. No pivoting is done. */
  readonly indefinite?: boolean;
}

/** Elimination order, block structure of the factor, and the pattern in that order. Depends on the pattern only; plain data. */
export interface PatternAnalysis extends SupernodePartition {
  /** The pattern analysed, as it came and in elimination order. */
  readonly base: Pattern;
  readonly ordered: OrderedPattern;
}

export function analysePattern(a: SparseSymmetric, group?: Uint32Array): PatternAnalysis {
  const graph = groupGraph(a, group);
  const partition = supernodePartition(graph, minimumDegreeOrder(graph));
  const { n, colStart, rowIndex } = a;
  return {
    ...partition,
    base: { n, colStart, rowIndex },
    ordered: orderedPattern(a, partition, factorSizes(partition)),
  };
}

/** The pattern of a matrix in an analysis' order: at hand where it is the one analysed. */
export function patternIn(a: SparseSymmetric, analysis: PatternAnalysis): OrderedPattern {
  const { base } = analysis;
  return a.colStart === base.colStart && a.rowIndex === base.rowIndex
    ? analysis.ordered
    : orderedPattern(a, analysis, factorSizes(analysis));
}

/** A pivot below this share of the diagonal entry it came from is rounding noise: the matrix is not safely positive. */
export const pivotFloor = 1e-13;

/**
 * The factor of A, or 'not-positive-definite' ('singular' where indefinite is allowed) naming the degree of freedom where
 * it failed, or 'cancelled'. The kernels come from the context.
 */
export function factorize(
  a: SparseSymmetric,
  options: FactorizeOptions = {},
  context: Context = quiet,
): Outcome<SparseFactor> {
  const partition = options.analysis ?? analysePattern(a, options.group);
  invariant(partition.n === a.n, () => `an analysis of ${partition.n} rows for ${a.n}`);
  const sizes = factorSizes(partition);
  const kernels = (context.kernels ?? typescriptKernels)(
    factorDoubles(partition, sizes) + Math.max(stackDoubles(sizes), blockDoubles(partition.size)),
  );
  const room = factorRoom(partition, sizes, kernels);
  const pattern = patternIn(a, partition);
  const definite = options.indefinite !== true;
  return refactorize({ ...room, n: a.n, base: a, pattern, definite }, a, context);
}

/**
 * The factor of other values on the same pattern (or within it), IN PLACE of the one that was there, which is spoilt also
 * by a failure. Fails as factorize does.
 */
export function refactorize(
  f: Omit<SparseFactor, "negatives" | "ran">,
  a: SparseSymmetric,
  context: Context = quiet,
): Outcome<SparseFactor> {
  const facts = factorInto(
    f,
    { pattern: f.pattern, ordered: false, terms: [{ values: valuesOn(a, f.base), factor: 1 }] },
    { definite: f.definite, pivotFloor },
    context,
  );
  if (!facts.ok) return facts;
  return done({ ...f, negatives: facts.value.negatives, ran: f.kernels.name });
}
