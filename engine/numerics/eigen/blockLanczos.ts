/**
 * Block Lanczos iteration for A = (K + s M)^-1 M, symmetric in the product <x, y> = x' M y, with full
 * reorthogonalisation. After j blocks A Q = Q T + Q_next R E' with T block tridiagonal and R upper triangular.
 * Source: Grimes, Lewis and Simon, SIAM J. Matrix Anal. Appl. 15 (1994) 228.
 *
 * All vectors, and M, stand in the elimination order of the factor.
 * M may be singular: every block is an image under A, so the iteration never leaves the space in which M is positive.
 */
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { seededRandom } from "../random/seededRandom.ts";
import type { CholeskyFactor } from "../sparse/factorize.ts";
import { solveBlock } from "../sparse/solveFactored.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";
import { blockProducts, multiplyBlock, subtractBlock } from "./blocks.ts";
import { normaliseBlock, upperProduct } from "./normaliseBlock.ts";
import { tridiagonalize, tridiagonalQl } from "./tridiagonal.ts";

/** Blocks of the basis (the last one is the residual block Q_next) and T, m x m row by row, m = 4 (blocks - 1). */
export interface LanczosSpace {
  readonly basis: readonly Float64Array[];
  readonly projected: Float64Array;
  readonly size: number;
  /** R of the last step, 4 x 4: what the last block of T's eigenvectors leaves outside the space. */
  readonly coupling: Float64Array;
}

interface Settings {
  readonly count: number;
  readonly tolerance: number;
  readonly largestBasis: number;
}

/** Grows the space until the `count` largest Ritz values of A have residuals below tolerance x value. */
export function blockLanczos(
  factor: CholeskyFactor,
  m: SparseSymmetric,
  settings: Settings,
  context: Context,
): Outcome<LanczosSpace> {
  const { n } = factor;
  const random = seededRandom(1);
  const basis: Float64Array[] = [];
  const mBasis: Float64Array[] = []; // M times each block
  const diagonals: Float64Array[] = [];
  const couplings: Float64Array[] = [];

  const scratch = new Float64Array(16);
  /**
   * Takes the span of the basis out of w, then mw := M w. The products use the stored M Q, so that w may carry any share
   * of the basis and mw is exact afterwards: an mw carried along instead drifts off M w a thousandfold each step.
   */
  const orthogonalise = (w: Float64Array, mw: Float64Array): void => {
    for (let b = 0; b < basis.length; b++) {
      blockProducts(mBasis[b], w, scratch);
      subtractBlock(basis[b], scratch, w);
    }
    multiplyBlock(m, w, mw);
  };
  /** Fresh orthonormal directions outside the basis and outside w, in the columns of w that are zero in r. */
  const fillVanished = (w: Float64Array, mw: Float64Array, r: Float64Array): boolean => {
    const fresh = imageOfRandom(m, factor, random);
    const mFresh = new Float64Array(4 * n);
    multiplyBlock(m, fresh, mFresh);
    const before = new Float64Array(16);
    blockProducts(fresh, mFresh, before);
    for (let pass = 0; pass < 3; pass++) {
      blockProducts(mw, fresh, scratch);
      subtractBlock(w, scratch, fresh);
      orthogonalise(fresh, mFresh);
    }
    const norms = new Float64Array(16);
    normaliseBlock(
      fresh,
      mFresh,
      norms,
      1e-10 * Math.sqrt(Math.max(before[0], before[5], before[10], before[15])),
    );
    const usable = [0, 1, 2, 3].filter((c) => norms[5 * c] > 0);
    for (let c = 0; c < 4; c++) {
      if (r[5 * c] > 0) continue;
      const from = usable.shift();
      if (from === undefined) return false;
      for (let i = 0; i < w.length; i += 4) {
        w[i + c] = fresh[i + from];
        mw[i + c] = mFresh[i + from];
      }
    }
    return true;
  };
  /** Makes w orthonormal and appends it to the basis; returns R with w = w_new R, or null if the space is exhausted. */
  const append = (w: Float64Array, mw: Float64Array, floor: number): Float64Array | null => {
    let coupling: Float64Array = new Float64Array(16);
    if (normaliseBlock(w, mw, coupling, floor) < 1e-4) {
      orthogonalise(w, mw);
      const again = new Float64Array(16);
      normaliseBlock(w, mw, again, 1e-6);
      coupling = upperProduct(again, coupling);
    }
    if ([0, 1, 2, 3].some((c) => coupling[5 * c] === 0) && !fillVanished(w, mw, coupling)) {
      // Fewer directions are left than a block is wide: its other columns stay zero and give Ritz values of zero.
      if (w.every((v) => v === 0)) return null;
    }
    basis.push(w);
    mBasis.push(mw);
    return coupling;
  };

  const first = imageOfRandom(m, factor, random);
  const mFirst = new Float64Array(4 * n);
  multiplyBlock(m, first, mFirst);
  if (append(first, mFirst, 0) === null) return failed("no-mass", "the mass matrix carries no motion");
  let before = { j: 0, worst: 1 };
  let largest = 0; // of the diagonal of T: the size of A
  let check = Math.ceil((1.7 * settings.count + 8) / 4);
  for (let j = 0; ; j++) {
    if (context.cancelled()) return failed("cancelled", `after ${j} blocks`);
    const w = mBasis[j].slice();
    solveBlock(factor, w);
    if (j > 0) {
      blockProducts(mBasis[j - 1], w, scratch);
      subtractBlock(basis[j - 1], scratch, w);
    }
    const own = new Float64Array(16);
    blockProducts(mBasis[j], w, own);
    subtractBlock(basis[j], own, w);
    diagonals.push(own);
    const mw = new Float64Array(4 * n);
    orthogonalise(w, mw);
    largest = Math.max(largest, own[0], own[5], own[10], own[15]);
    const coupling = append(w, mw, 1e-13 * largest);
    const size = 4 * (j + 1);
    if (coupling === null) {
      return done({
        basis,
        projected: assembled(diagonals, couplings),
        size,
        coupling: new Float64Array(16),
      });
    }
    couplings.push(coupling);
    context.progress(Math.min(0.95, size / (2.3 * settings.count + 8)));
    if (j + 1 < check) continue;
    const projected = assembled(diagonals, couplings);
    const worst = worstResidual(projected, size, coupling, settings.count);
    if (worst <= settings.tolerance) return done({ basis, projected, size, coupling });
    if (size + 8 > settings.largestBasis) {
      return failed("not-converged", `residual ${worst.toExponential(1)} after ${size} vectors`);
    }
    check = j + 1 + blocksToGo(worst, settings.tolerance, before, j);
    before = { j, worst };
  }
}

function imageOfRandom(m: SparseSymmetric, factor: CholeskyFactor, random: () => number): Float64Array {
  const start = Float64Array.from({ length: 4 * m.n }, () => random() - 0.5);
  const image = new Float64Array(4 * m.n);
  multiplyBlock(m, start, image);
  solveBlock(factor, image);
  return image;
}

/**
 * When to look again: residuals fall by about the same factor each block, and looking costs as much as half a block.
 * Aims two thirds of the way, because convergence quickens towards its end.
 */
function blocksToGo(
  worst: number,
  tolerance: number,
  before: { j: number; worst: number },
  j: number,
): number {
  const perBlock = Math.log(before.worst / worst) / (j - before.j);
  const wanted = Math.log(worst / tolerance) / perBlock;
  return wanted > 0 && Number.isFinite(wanted) ? Math.min(6, Math.max(1, Math.floor(0.67 * wanted))) : 2;
}

/** T from its diagonal blocks and the couplings R between them. */
function assembled(diagonals: readonly Float64Array[], couplings: readonly Float64Array[]): Float64Array {
  const size = 4 * diagonals.length;
  const t = new Float64Array(size * size);
  diagonals.forEach((d, b) => {
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < 4; j++) {
        t[(4 * b + i) * size + 4 * b + j] = 0.5 * (d[4 * i + j] + d[4 * j + i]);
        if (b + 1 === diagonals.length) continue;
        t[(4 * b + 4 + i) * size + 4 * b + j] = couplings[b][4 * i + j];
        t[(4 * b + j) * size + 4 * b + 4 + i] = couplings[b][4 * i + j];
      }
    }
  });
  return t;
}

/** Largest relative residual |A x - theta x| / theta of the `count` largest Ritz pairs. */
function worstResidual(projected: Float64Array, size: number, coupling: Float64Array, count: number): number {
  if (size < count) return Number.POSITIVE_INFINITY;
  const t = tridiagonalize(projected, size, 4);
  if (!tridiagonalQl(t).ok) return Number.POSITIVE_INFINITY;
  const order = Array.from({ length: size }, (_, i) => i).sort((a, b) => t.diagonal[b] - t.diagonal[a]);
  let worst = 0;
  for (const i of order.slice(0, count)) {
    worst = Math.max(worst, outsideNorm(coupling, t.basis.subarray(4 * i, 4 * i + 4)) / t.diagonal[i]);
  }
  return worst;
}

/** |R s| for the last four components s of an eigenvector of T. */
function outsideNorm(coupling: Float64Array, s: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < 4; i++) {
    let row = 0;
    for (let k = i; k < 4; k++) row += coupling[4 * i + k] * s[k];
    sum += row * row;
  }
  return Math.sqrt(sum);
}
