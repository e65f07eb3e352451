/** All modes below a frequency, rigid motions included, and the factor they were found with. */
import { invariant } from "../invariant.ts";
import { type Context, done, type Outcome } from "../outcome.ts";
import { factoredBetween, type SparseRows } from "../sparse/factoredBetween.ts";
import { solveFactored } from "../sparse/solveFactored.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";
import { basisFor } from "./iteratedModes.ts";
import { likelyCount, type ModeSlice, roomTooSmall, sliceIn } from "./modesBetween.ts";
import { type PencilOptions, pencil } from "./pencil.ts";

export interface ModesBelow extends ModeSlice {
  /** s of the factor of K + s M that is kept. */
  readonly solveShift: number;
  /** x = (K + solveShift M)^-1 b: n x columns, column after column. Keeps the memory of the kernels alive. */
  readonly solve: (b: Float64Array, columns: number) => Float64Array;
  /** B' (K + solveShift M)^-1 B for sparse rows B, square, row by row: far less work than solving for each. */
  readonly between: (rows: SparseRows) => Float64Array;
}

export interface ModesBelowOptions extends PencilOptions {
  /** All eigenvalues below this lambda (rad2/s2) are found. */
  readonly to: number;
  /**
   * s of K + s M (> 0 for a free body), with which K becomes positive definite; default to / 1000, a thirtieth of the
   * highest frequency. 0 for a body that is held.
   */
  readonly shift?: number;
  /** Whether the eigenvalues below `to` are counted by a factorisation there; see SliceOptions. */
  readonly countTo?: boolean;
  readonly tolerance?: number;
  readonly expected?: number;
}

/**
 * All eigenpairs of K x = lambda M x below `to`, by block Lanczos from below with the factor of K + shift M, which is kept
 * for static loads. It is definite, so that nothing lies below the first pair found. K and M positive semidefinite. Rigid motions come out with lambda = 0 to
 * rounding.
 * Failures: 'not-positive-definite' naming the degree of freedom that nothing holds, 'singular' (no count at `to`),
 * 'not-converged', 'cancelled'.
 */
export function modesBelow(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: ModesBelowOptions,
  context: Context,
): Outcome<ModesBelow> {
  const { to, shift = 1e-3 * o.to, countTo = true } = o;
  invariant(to > 0 && shift >= 0, () => `modes below ${to}, shift ${shift}`);
  const whole = { ...o, from: 0, shift: -shift, countFrom: false, countTo };
  let p = pencil(k, m, o, Math.min(k.n, basisFor(o.expected ?? likelyCount)), context);
  let slice = sliceIn(p, k, m, whole, context);
  if (!slice.ok && slice.reason === roomTooSmall) {
    p = pencil(k, m, o, Math.min(k.n, basisFor(Number(slice.detail))), context);
    slice = sliceIn(p, k, m, whole, context);
  }
  if (!slice.ok) return slice;
  const { room } = p;
  return done({
    ...slice.value,
    solveShift: shift,
    solve: (b: Float64Array, columns: number): Float64Array => solveFactored(room, b, columns),
    between: (rows: SparseRows): Float64Array => factoredBetween(room, rows),
  });
}
