/**
 * Block Lanczos iteration for A = (K - s M)^-1 M, symmetric in the product <x, y> = x' M y, with full
 * reorthogonalisation. After j blocks A Q = Q T + Q_next R E' with T block tridiagonal and R upper triangular.
 * Source: Grimes, Lewis and Simon, SIAM J. Matrix Anal. Appl. 15 (1994) 228.
 *
 * All vectors, and M, stand in the elimination order of the factor, in the memory of its kernels.
 * M may be singular: every block is an image under A, so the iteration never leaves the space in which M is positive.
 */

import { invariant } from "../invariant.ts";
import { placeOf } from "../kernels/kernelMemory.ts";
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { seededRandom } from "../random/seededRandom.ts";
import type { FactorRoom } from "../sparse/factorRoom.ts";
import { blockDoubles, solveBlocks } from "../sparse/solveFactored.ts";
import { blockCholesky, upperProduct } from "./blockCholesky.ts";
import { multiplyPlaced, type PlacedMatrix } from "./placedMatrix.ts";
import { ritzStep } from "./ritzStep.ts";

/** Blocks of the basis, one after the other from place `basis`, the last one being the residual block Q_next. */
export interface LanczosSpace {
  readonly basis: number;
  readonly blocks: number;
  /** T, size x size row by row. */
  readonly projected: Float64Array;
  readonly size: number;
  /** R of the last step, 4 x 4: what the last block of T's eigenvectors leaves outside the space. */
  readonly coupling: Float64Array;
}

/** What is left to find, judged from the Ritz values theta and the residuals |A x - theta x| in the product of M. */
export interface LanczosGoal {
  /** About how many pairs will be wanted: when to look first. */
  readonly expected: number;
  /** Largest number of basis vectors; room for one block more must be there. */
  readonly largestBasis: number;
  readonly tolerance: number;
  /**
   * Largest |residual / theta| among what is wanted (both n, theta ascending), infinite while not all of it shows.
   */
  worst(theta: Float64Array, residual: Float64Array): number;
}

/** Blocks that known vectors may take. */
const mostLocked = 2;

/** Doubles of the basis and of the working blocks. */
export function lanczosDoubles(size: number, largestBasis: number): number {
  return blockDoubles(size) * (Math.ceil(largestBasis / 4) + 1 + 4 + mostLocked) + 16 * (largestBasis + 16);
}

/**
 * Grows the space until goal.worst falls below the tolerance, outside the span of `known` (M-orthonormal eigenvectors,
 * vector after vector in the order of the unknowns). Failures: 'no-mass', 'not-converged', 'cancelled'.
 */
export function blockLanczos(
  room: FactorRoom,
  m: PlacedMatrix,
  known: Float64Array,
  goal: LanczosGoal,
  context: Context,
): Outcome<LanczosSpace> {
  const { kernels } = room;
  const { numbers, blocks: kernel } = kernels;
  const { size: rows } = room.partition;
  const random = seededRandom(1);
  const stride = blockDoubles(rows);
  const take = (): number => placeOf(kernels.allocate(stride));
  const w = take();
  const mw = take();
  const mLast = take(); // M times the last block of the basis
  const spare = take();
  const small = placeOf(kernels.allocate(4 * goal.largestBasis + 128));
  const { positionOf, n } = room.partition;
  invariant(known.length <= 4 * mostLocked * n, () => `${known.length / n} known vectors`);
  const locked = Math.ceil(known.length / n / 4); // blocks of known vectors, before those of the basis
  const all = take();
  kernels.allocate(stride * (Math.ceil(goal.largestBasis / 4) + locked));
  for (let c = 0; c * n < known.length; c++) {
    const to = all + (c >> 2) * stride + (c & 3);
    for (let i = 0; i < n; i++) numbers[to + 4 * positionOf[i]] = known[c * n + i];
  }
  const basis = all + locked * stride;
  let count = 0; // blocks in the basis
  const diagonals: Float64Array[] = [];
  const couplings: Float64Array[] = [];

  const at = (block: number): number => basis + block * stride;
  const products = (q: number, blocks: number, z: number): Float64Array => {
    kernel.products(q, stride, blocks, z, 0, 1, rows, small);
    return numbers.slice(small, small + 16 * blocks);
  };
  const subtract = (q: number, c: Float64Array, x: number): void => {
    numbers.set(c, small);
    kernel.subtract(q, stride, c.length >> 4, small, x, 0, 1, rows);
  };
  const transform = (x: number, t: Float64Array, to: number): void => {
    numbers.set(t, small);
    kernel.transform(x, small, rows, to);
  };
  /** Takes the span of the basis out of x; mx must be M x and is so again afterwards. */
  const orthogonalise = (x: number, mx: number): void => {
    if (locked + count > 0) {
      kernel.products(all, stride, locked + count, mx, 0, 1, rows, small);
      kernel.subtract(all, stride, locked + count, small, x, 0, 1, rows);
    }
    multiplyPlaced(kernels, m, x, mx);
  };
  const imageOfRandom = (to: number): void => {
    for (let i = 0; i < 4 * rows; i++) numbers[spare + i] = random() - 0.5;
    multiplyPlaced(kernels, m, spare, to);
    solveBlocks(room, to, 0, 1);
  };
  /** Fresh orthonormal directions outside the basis and outside w, in the columns of w that are zero in r. */
  const fillVanished = (r: Float64Array): boolean => {
    const fresh = mLast;
    imageOfRandom(fresh);
    multiplyPlaced(kernels, m, fresh, spare);
    const before = products(fresh, 1, spare);
    for (let pass = 0; pass < 3; pass++) {
      subtract(w, products(w, 1, spare), fresh);
      multiplyPlaced(kernels, m, fresh, spare);
      orthogonalise(fresh, spare);
    }
    const largest = Math.sqrt(Math.max(before[0], before[5], before[10], before[15]));
    const { r: norms, inverse } = blockCholesky(products(fresh, 1, spare), 1e-10 * largest);
    transform(fresh, inverse, fresh);
    transform(spare, inverse, spare);
    const usable = [0, 1, 2, 3].filter((c) => norms[5 * c] > 0);
    for (let c = 0; c < 4; c++) {
      if (r[5 * c] > 0) continue;
      const from = usable.shift();
      if (from === undefined) return false;
      for (let i = 0; i < 4 * rows; i += 4) {
        numbers[w + i + c] = numbers[fresh + i + from];
        numbers[mw + i + c] = numbers[spare + i + from];
      }
    }
    return true;
  };
  /** Makes w orthonormal and appends it to the basis; returns R with w = w_new R, or null if the space is exhausted. */
  const append = (floor: number): Float64Array | null => {
    const once = blockCholesky(products(w, 1, mw), floor);
    transform(w, once.inverse, w);
    transform(mw, once.inverse, mw);
    let coupling = once.r;
    if (once.share < 1e-4) {
      orthogonalise(w, mw);
      const again = blockCholesky(products(w, 1, mw), 1e-6);
      transform(w, again.inverse, w);
      transform(mw, again.inverse, mw);
      coupling = upperProduct(again.r, coupling);
    }
    const vanished = [0, 1, 2, 3].filter((c) => coupling[5 * c] === 0).length;
    // Fewer directions may be left than a block is wide: its other columns stay zero and give Ritz values of zero.
    if (vanished > 0 && !fillVanished(coupling) && vanished === 4) {
      if (numbers.subarray(w, w + 4 * rows).every((v) => v === 0)) return null;
    }
    numbers.copyWithin(at(count), w, w + stride);
    numbers.copyWithin(mLast, mw, mw + stride);
    count++;
    return coupling;
  };

  imageOfRandom(w);
  multiplyPlaced(kernels, m, w, mw);
  if (locked > 0) orthogonalise(w, mw);
  if (append(0) === null) return failed("no-mass", "the mass matrix carries no motion");
  let before = { j: 0, worst: 1 };
  let largest = 0; // of the diagonal of T: the size of A
  let check = Math.ceil((1.4 * goal.expected + 40) / 4); // as few as it has ever taken
  for (let j = 0; ; j++) {
    if (context.cancelled()) return failed("cancelled", `after ${j} blocks`);
    numbers.copyWithin(w, mLast, mLast + stride);
    solveBlocks(room, w, 0, 1);
    if (j > 0) subtract(at(j - 1), transposed(couplings[j - 1]), w);
    const own = products(mLast, 1, w);
    subtract(at(j), own, w);
    diagonals.push(own);
    multiplyPlaced(kernels, m, w, mw);
    if (j % 3 !== 2) orthogonalise(w, mw);
    for (let c = 0; c < 4; c++) largest = Math.max(largest, Math.abs(own[5 * c]));
    const coupling = append(1e-13 * largest);
    const size = 4 * (j + 1);
    const space = (r: Float64Array): LanczosSpace => ({
      basis,
      blocks: count,
      projected: assembled(diagonals, couplings),
      size,
      coupling: r,
    });
    if (coupling === null) return done(space(new Float64Array(16)));
    couplings.push(coupling);
    context.progress(Math.min(0.95, size / (2.3 * goal.expected + 8)));
    const full = size + 8 > goal.largestBasis;
    if (j + 1 < check && !full) continue;
    const found = space(coupling);
    const step = ritzStep(found.projected, size, coupling);
    const worst = goal.worst(step.theta, step.residual);
    if (worst <= goal.tolerance) return done(found);
    if (full) return failed("not-converged", `residual ${worst.toExponential(1)} after ${size} vectors`);
    check = j + 1 + blocksToGo(worst, goal.tolerance, before, j);
    before = { j, worst };
  }
}

function transposed(r: Float64Array): Float64Array {
  return Float64Array.from({ length: 16 }, (_, i) => r[4 * (i & 3) + (i >> 2)]);
}

/**
 * When to look again: residuals fall by about the same factor each block, three times as fast as in the mean from the start, and
 * looking costs as much as half a block. Aims two thirds of the way, because convergence quickens towards its end.
 */
function blocksToGo(
  worst: number,
  tolerance: number,
  before: { j: number; worst: number },
  j: number,
): number {
  const perBlock = ((before.j === 0 ? 3 : 1) * Math.log(before.worst / worst)) / (j - before.j);
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
