/** Modes brought up to date after a small change of K and M, from approximate ones: for an edit just let go. */

import { invariant } from "../invariant.ts";
import { placeOf } from "../kernels/kernelMemory.ts";
import type { Kernels } from "../kernels/kernels.ts";
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { analysePattern, pivotFloor } from "../sparse/factorize.ts";
import { factorSizes } from "../sparse/factorRoom.ts";
import { type LiveFactor, liveFactor, refactor } from "../sparse/liveFactor.ts";
import { valuesOn } from "../sparse/orderedPattern.ts";
import { blockDoubles, solveBlocks, solveFactored } from "../sparse/solveFactored.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";
import type { Eigenpairs } from "./iteratedModes.ts";
import { type Pencil, type PencilOptions, pencil } from "./pencil.ts";
import { multiplyPlaced, type PlacedMatrix } from "./placedMatrix.ts";
import { type DenseEigenpairs, generalizedSymmetricEigen } from "./symmetricEigen.ts";

/**
 * A factor of K + shift M with everything that refreshModes needs, in the memory of one set of kernels. Working state:
 * refreshModes changes it IN PLACE, so it belongs to one worker.
 */
export interface RefreshState {
  readonly pencil: Pencil;
  readonly live: LiveFactor;
  readonly shift: number;
  /** Largest number of vectors there is room for, a multiple of four. */
  readonly most: number;
  /** Whose pattern later matrices must keep to. */
  readonly base: SparseSymmetric;
  /** Place of three families of most / 4 blocks: Z, (K + shift M) Z and M Z. */
  readonly blocks: number;
}

export interface RefreshOptions extends PencilOptions {
  /** s >= 0 of K + s M, which must be positive definite (> 0 for a free body). */
  readonly shift: number;
  /** Largest number of vectors that will be handed in. */
  readonly most: number;
}

/** Factors K + shift M and makes the room. Failures: 'not-positive-definite' naming the degree of freedom, 'cancelled'. */
export function refreshState(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: RefreshOptions,
  context: Context,
): Outcome<RefreshState> {
  const analysis = o.analysis ?? analysePattern(k, o.group);
  const updateDoubles = factorSizes(analysis).updateStart[analysis.count];
  const most = 4 * Math.ceil(o.most / 4);
  const stride = blockDoubles(analysis.size);
  const room = updateDoubles + (3 * (most / 4) + 1) * stride + 4 * most * most + 64;
  const p = pencil(k, m, { analysis }, 0, context, room);
  const live = liveFactor(p.room, placeOf(p.kernels.allocate(updateDoubles)));
  const blocks = placeOf(p.kernels.allocate(3 * (most / 4) * stride));
  const state = { pencil: p, live, shift: o.shift, most, base: k, blocks };
  const factored = refactor(live, shifted(state), pivotFloor, context);
  return factored.ok ? done(state) : factored;
}

export interface RefreshedModes extends Eigenpairs {
  /** Supernodes whose fronts were worked anew, of how many. */
  readonly refactored: number;
  readonly supernodes: number;
  readonly ran: "wasm" | "typescript";
}

/**
 * The lowest `count` modes of the new K and M (patterns within that of the state's K) from approximate vectors (given x n, more
 * than count of them for a better last mode): the changed fronts are factored anew, every vector goes through the inverse
 * once, and Rayleigh and Ritz do the rest. Residuals as in Eigenpairs with offset = shift tell what is left.
 * Failures: 'not-positive-definite' naming the degree of freedom, 'dependent-vectors', 'cancelled' (the state stays usable).
 */
export function refreshModes(
  state: RefreshState,
  k: SparseSymmetric,
  m: SparseSymmetric,
  vectors: Float64Array,
  count: number,
  context: Context,
): Outcome<RefreshedModes> {
  const { pencil: p } = state;
  const given = vectors.length / p.n;
  invariant(count <= given, () => `${given} vectors, ${count} wanted`);
  const stepped = stepOn(state, k, m, vectors, 0, context);
  if (!stepped.ok) return stepped;
  const pairs = rayleighRitz(state, given, count);
  if (!pairs.ok) return pairs;
  return done({
    ...pairs.value,
    refactored: stepped.value,
    supernodes: p.room.partition.count,
    ran: p.kernels.name,
  });
}

/**
 * The same, but the values alone (ascending, one by vector given), which cost half as much. The last `still` vectors are motions
 * with hardly any stiffness: x/shift is (K + shift M)^-1 M x to first order, and is taken for it. Fails as refreshModes does.
 */
export function refreshValues(
  state: RefreshState,
  k: SparseSymmetric,
  m: SparseSymmetric,
  vectors: Float64Array,
  still: number,
  context: Context,
): Outcome<Float64Array> {
  const stepped = stepOn(state, k, m, vectors, still, context);
  if (!stepped.ok) return stepped;
  const given = vectors.length / state.pencil.n;
  const reduced = reducedPencil(state, given);
  if (!reduced.ok) return reduced;
  const { values: theta } = reduced.value;
  return done(Float64Array.from({ length: given }, (_, i) => 1 / theta[given - 1 - i] - state.shift));
}

/**
 * (K + shift M)^-1 b for `columns` right-hand sides, column after column; the state then stands at these matrices. Fails as refreshModes
 * does.
 */
export function refreshSolve(
  state: RefreshState,
  k: SparseSymmetric,
  m: SparseSymmetric,
  b: Float64Array,
  columns: number,
  context: Context,
): Outcome<Float64Array> {
  const { pencil: p, live, base } = state;
  takeOver(p, live, valuesOn(k, base), valuesOn(m, base));
  const worked = refactor(live, shifted(state), pivotFloor, context);
  return worked.ok ? done(solveFactored(p.room, b, columns)) : worked;
}

/** Takes over the matrices, works the changed fronts anew, and sends the vectors through the inverse; how many fronts. */
function stepOn(
  state: RefreshState,
  k: SparseSymmetric,
  m: SparseSymmetric,
  vectors: Float64Array,
  still: number,
  context: Context,
): Outcome<number> {
  const { pencil: p, live, base, most } = state;
  const given = vectors.length / p.n;
  invariant(Number.isInteger(given) && given <= most, () => `${given} vectors where ${most} have room`);
  takeOver(p, live, valuesOn(k, base), valuesOn(m, base));
  const worked = refactor(live, shifted(state), pivotFloor, context);
  if (!worked.ok) return worked;
  if (context.cancelled()) return failed("cancelled", "after the factorisation");
  const stepped = inverseStep(state, vectors, given, still, context);
  return stepped.ok ? worked : stepped;
}

function shifted({ pencil: p, shift }: Pick<RefreshState, "pencil" | "shift">) {
  return {
    pattern: p.pattern,
    ordered: true,
    terms: [
      { values: p.kValues, factor: 1 },
      { values: p.mValues, factor: shift },
    ],
  };
}

/** Copies the new values and marks the fronts in which any of them differs. */
function takeOver(p: Pencil, live: LiveFactor, k: Float64Array, m: Float64Array): void {
  const { colStart, source } = p.pattern;
  const { count, columnStart } = p.room.partition;
  const { kValues, mValues } = p;
  for (let s = 0; s < count; s++) {
    let changed = false;
    for (let q = colStart[columnStart[s]]; q < colStart[columnStart[s + 1]]; q = (q + 1) | 0) {
      const from = source[q];
      if (kValues[q] !== k[from] || mValues[q] !== m[from]) {
        changed = true;
        kValues[q] = k[from];
        mValues[q] = m[from];
      }
    }
    if (changed) live.stale[s] = 1;
  }
}

/** So many blocks share one reading of the factor. */
const together = 4;

/** Z := (K + shift M)^-1 M X, with (K + shift M) Z = M X and M Z beside it; blocks of still vectors alone need no solve. */
function inverseStep(
  state: RefreshState,
  vectors: Float64Array,
  given: number,
  still: number,
  context: Context,
): Outcome<null> {
  const { pencil: p, blocks: z, most } = state;
  const { kernels, room, n } = p;
  const { numbers } = kernels;
  const { positionOf, size } = room.partition;
  const stride = blockDoubles(size);
  const family = (most / 4) * stride;
  const mass = massOf(p);
  const used = Math.ceil(given / 4);
  const solved = Math.ceil((given - still) / 4);
  for (let b = 0; b < used; b++) {
    const at = z + b * stride;
    numbers.fill(0, at, at + stride);
    for (let c = 0; c < Math.min(4, given - 4 * b); c++) {
      const from = (4 * b + c) * n;
      for (let i = 0; i < n; i++) numbers[at + 4 * positionOf[i] + c] = vectors[from + i];
    }
    const force = at + family;
    numbers.fill(0, force, force + stride);
    multiplyPlaced(kernels, mass, at, force);
    if (b < solved) {
      numbers.copyWithin(at, force, force + stride);
      continue;
    }
    // Z := X/shift, whatever little stiffness there is
    const elastic = force + family;
    multiplyPlaced(kernels, p.stiffness, at, elastic);
    for (let i = 0; i < stride; i++) {
      numbers[force + i] += numbers[elastic + i] / state.shift;
      numbers[at + i] /= state.shift;
    }
  }
  for (let b = 0; b < solved; b += together) {
    if (context.cancelled()) return failed("cancelled", `after ${4 * b} of ${given} vectors`);
    solveBlocks(room, z + b * stride, stride, Math.min(together, solved - b));
  }
  for (let b = 0; b < used; b++) multiplyPlaced(kernels, mass, z + b * stride, z + b * stride + 2 * family);
  return done(null);
}

/** M on the whole pattern: its values change, so that none may be left out for being zero. */
function massOf(p: Pencil): PlacedMatrix {
  return { ...p.stiffness, values: placeOf(p.mValues) };
}

/** theta (K + shift M) c = M c among the Z: the mass matrix may carry fewer motions than vectors were given. */
function reducedPencil(
  { pencil: { kernels, room }, blocks: z, most }: RefreshState,
  given: number,
): Outcome<DenseEigenpairs> {
  const { size } = room.partition;
  const stride = blockDoubles(size);
  const family = (most / 4) * stride;
  const used = Math.ceil(given / 4);
  const a = gram(kernels, z, z + family, stride, used, given, size);
  const b = gram(kernels, z, z + 2 * family, stride, used, given, size);
  const reduced = generalizedSymmetricEigen(b, a, given);
  return reduced.ok ? reduced : failed("dependent-vectors", reduced.detail);
}

function rayleighRitz(state: RefreshState, given: number, count: number): Outcome<Eigenpairs> {
  const { pencil: p, blocks: z, most, shift } = state;
  const { kernels, room, n } = p;
  const { numbers } = kernels;
  const { positionOf, size } = room.partition;
  const stride = blockDoubles(size);
  const family = (most / 4) * stride;
  const used = Math.ceil(given / 4);
  const reduced = reducedPencil(state, given);
  if (!reduced.ok) return reduced;
  const { values: theta, vectors: c } = reduced.value;
  const values = new Float64Array(count);
  const out = new Float64Array(count * n);
  const residuals = new Float64Array(count);
  const mark = kernels.mark();
  const coefficients = placeOf(kernels.allocate(16 * used));
  const x = placeOf(kernels.allocate(stride));
  for (let first = 0; first < count; first += 4) {
    const width = Math.min(4, count - first);
    numbers.fill(0, coefficients, coefficients + 16 * used);
    for (let k = 0; k < width; k++) {
      const pick = given - 1 - first - k;
      values[first + k] = 1 / theta[pick] - shift;
      const scale = -1 / Math.sqrt(theta[pick]); // c' (K + shift M) c = 1, so x' M x = theta
      for (let i = 0; i < given; i++) numbers[coefficients + 4 * i + k] = scale * c[pick * given + i];
    }
    const combine = (from: number): void => {
      numbers.fill(0, x, x + 4 * size);
      kernels.blocks.subtract(from, stride, used, coefficients, x, 0, 1, size);
    };
    combine(z);
    for (let k = 0; k < width; k++)
      for (let i = 0; i < n; i++) out[(first + k) * n + i] = numbers[x + 4 * positionOf[i] + k];
    combine(z + 2 * family);
    const forces = numbers.slice(x, x + 4 * size);
    combine(z + family);
    for (let k = 0; k < width; k++) {
      const mu = values[first + k] + shift;
      let rest = 0;
      let force = 0;
      for (let i = k; i < 4 * size; i += 4) {
        const f = mu * forces[i];
        rest += (numbers[x + i] - f) ** 2;
        force += f * f;
      }
      residuals[first + k] = Math.sqrt(rest / force);
    }
  }
  kernels.release(mark);
  return done({ values, vectors: out, residuals });
}

/** Z' F (given x given), symmetric: only the blocks on and below the diagonal are formed. */
function gram(
  kernels: Kernels,
  z: number,
  f: number,
  stride: number,
  used: number,
  given: number,
  rows: number,
): Float64Array {
  const mark = kernels.mark();
  const c = kernels.allocate(16 * used);
  const out = new Float64Array(given * given);
  for (let k = 0; k < used; k++) {
    kernels.blocks.products(z + k * stride, stride, used - k, f + k * stride, 0, 1, rows, placeOf(c));
    for (let i = 4 * k; i < given; i++) {
      for (let j = 4 * k; j < Math.min(4 * k + 4, given); j++) {
        const value = c[4 * (i - 4 * k) + j - 4 * k];
        out[i * given + j] = value;
        out[j * given + i] = value;
      }
    }
  }
  kernels.release(mark);
  return out;
}
