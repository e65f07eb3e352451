import {
  type Context,
  done,
  factorize,
  failed,
  type Outcome,
  type SparseSymmetric,
  seededRandom,
  solveFactored,
  symmetricEigen,
  symmetricMultiply,
} from "#engine/numerics";
import type { SpringTerm } from "./bodyModel.ts";

export interface BucklingOptions {
  /** How many of the lowest positive factors. */
  readonly count: number;
  /** Node of each row, for the elimination order. */
  readonly group?: Uint32Array;
  /** Rank-one terms of the geometric stiffness (strings). */
  readonly springs?: readonly SpringTerm[];
}

/**
 * Linear buckling. A factor multiplies the load at which the perfect, linear structure would lose its stiffness; domes
 * and creeping wood give way earlier: half of it (`knockDown`) is what may be counted on.
 */
export interface Buckling {
  /** Ascending, all positive. */
  readonly factors: Float64Array;
  /** factors x n, shape after shape: greatest entry 1. */
  readonly shapes: Float64Array;
  /** Residual of each pair in the norm of the stiffness, relative to its own. */
  readonly residuals: Float64Array;
  /** Divide a factor by this before trusting it (engineering judgement: linear factors of shells are good to a factor of 2). */
  readonly knockDown: 2;
}

const block = 4;
/** Residual relative to its factor at which a shape counts as found; the factor itself is then good to its square. */
const tolerance = 1e-6;
const largestBasis = 240;

/**
 * The lowest positive factors of K x = lambda (-KG) x: the largest positive theta = 1 / lambda of K^-1 (-KG) by block
 * Lanczos in the inner product of K with full reorthogonalisation. KG on any pattern. Fewer than asked for come back if
 * there are no more.
 * Fails: 'not-positive-definite' as the factorisation does, 'does-not-buckle' (no shape is softened by the load),
 * 'not-converged', 'cancelled'.
 */
export function bucklingFactors(
  stiffness: SparseSymmetric,
  geometric: SparseSymmetric,
  o: BucklingOptions,
  ctx: Context,
): Outcome<Buckling> {
  const { n } = stiffness;
  const factor = factorize(stiffness, { ...(o.group && { group: o.group }) }, ctx);
  if (!factor.ok) return factor;
  const space: Space = { n, basis: [], weighted: [], products: [] };
  const random = seededRandom(1);
  let columns = Math.min(block, n);
  let forces: Float64Array = Float64Array.from({ length: columns * n }, () => random() - 0.5);
  for (;;) {
    if (ctx.cancelled()) return failed("cancelled", "cancelled while looking for buckling shapes");
    const images = solveFactored(factor.value, forces, columns);
    const rest: Trial[] = [];
    for (let c = 0; c < columns; c++) {
      const trial = { x: images.slice(c * n, (c + 1) * n), kx: forces.slice(c * n, (c + 1) * n) };
      for (let pass = 0; pass < 2; pass++) clear(trial, space.basis, space.weighted);
      rest.push(trial);
    }
    const { basis } = space;
    const pairs = basis.length === 0 ? [] : ritzPairs(space, rest, o.count);
    const found = pairs.length === o.count && pairs.every((p) => p.residual < tolerance);
    const before = basis.length;
    if (!found) for (const trial of rest) addTrial(space, trial);
    if (found || basis.length === before) {
      const sure = pairs.filter((p) => p.residual < tolerance);
      return sure.length === 0
        ? failed("does-not-buckle", "the load softens no shape: there is no buckling factor")
        : done(shapesOf(space, sure));
    }
    if (basis.length > largestBasis)
      return failed("not-converged", `buckling shapes still moved after ${basis.length} trial shapes`);
    columns = basis.length - before;
    const fresh = new Float64Array(columns * n);
    for (let c = 0; c < columns; c++) fresh.set(basis[before + c], c * n);
    forces = softening(geometric, o.springs ?? [], fresh, columns);
    for (let c = 0; c < columns; c++) {
      const image = forces.subarray(c * n, (c + 1) * n);
      space.products.push(Float64Array.from(basis.slice(0, before + c + 1), (x) => dot(x, image)));
    }
    ctx.progress(Math.min(0.99, basis.length / 60));
  }
}

interface Space {
  readonly n: number;
  /** K-orthonormal. */
  readonly basis: Float64Array[];
  /** K times the basis. */
  readonly weighted: Float64Array[];
  /** Row i: basis[0 .. i] times -KG basis[i]. */
  readonly products: Float64Array[];
}

/** A vector and K times it. */
interface Trial {
  readonly x: Float64Array;
  readonly kx: Float64Array;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

/** y += f x */
function addScaled(y: Float64Array, f: number, x: Float64Array): void {
  for (let i = 0; i < y.length; i++) y[i] += f * x[i];
}

/** Makes the trial K-orthogonal to the basis. */
function clear(trial: Trial, basis: readonly Float64Array[], weighted: readonly Float64Array[]): void {
  for (let k = 0; k < basis.length; k++) {
    const part = dot(weighted[k], trial.x);
    addScaled(trial.x, -part, basis[k]);
    addScaled(trial.kx, -part, weighted[k]);
  }
}

/** Adds what is new in the trial to the basis; a trial within rounding of the basis is dropped. */
function addTrial(space: Space, trial: Trial): void {
  const first = dot(trial.x, trial.kx);
  const own = space.basis.slice(-block);
  const weighted = space.weighted.slice(-block);
  for (let pass = 0; pass < 2; pass++) clear(trial, own, weighted);
  const size = dot(trial.x, trial.kx);
  if (!(size > 1e-20 * first) || !(size > 0)) return;
  const f = 1 / Math.sqrt(size);
  for (let i = 0; i < space.n; i++) {
    trial.x[i] *= f;
    trial.kx[i] *= f;
  }
  space.basis.push(trial.x);
  space.weighted.push(trial.kx);
}

/** -(KG + springs) x, column after column. */
function softening(
  geometric: SparseSymmetric,
  springs: readonly SpringTerm[],
  x: Float64Array,
  columns: number,
): Float64Array {
  const { n } = geometric;
  const y = symmetricMultiply(geometric, x, columns);
  for (let i = 0; i < y.length; i++) y[i] = -y[i];
  for (let c = 0; c < columns; c++) {
    for (const { stiffness, row, weight } of springs) {
      let stretch = 0;
      for (let p = 0; p < row.length; p++) stretch += weight[p] * x[c * n + row[p]];
      for (let p = 0; p < row.length; p++) y[c * n + row[p]] -= stiffness * stretch * weight[p];
    }
  }
  return y;
}

interface RitzPair {
  readonly theta: number;
  readonly s: Float64Array;
  /** Of K^-1 (-KG) x = theta x in the norm of K, over theta. */
  readonly residual: number;
}

/** The largest positive theta of the space, up to `count`; `rest`: what the images of the last block have beyond it. */
function ritzPairs(space: Space, rest: readonly Trial[], count: number): RitzPair[] {
  const { products } = space;
  const m = products.length;
  const projected = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j <= i; j++) projected[m * i + j] = projected[m * j + i] = products[i][j];
  const { values, vectors } = symmetricEigen(projected, m);
  const pairs: RitzPair[] = [];
  for (let k = m - 1; k >= 0 && pairs.length < count && values[k] > 0; k--) {
    const s = vectors.slice(k * m, (k + 1) * m);
    let square = 0;
    const last = s.subarray(m - rest.length);
    for (let a = 0; a < rest.length; a++)
      for (let b = 0; b < rest.length; b++) square += last[a] * last[b] * dot(rest[a].x, rest[b].kx);
    pairs.push({ theta: values[k], s, residual: Math.sqrt(Math.max(square, 0)) / values[k] });
  }
  return pairs;
}

function shapesOf(space: Space, pairs: readonly RitzPair[]): Buckling {
  const { n, basis } = space;
  const shapes = new Float64Array(pairs.length * n);
  pairs.forEach(({ s }, k) => {
    const x = shapes.subarray(k * n, (k + 1) * n);
    for (let j = 0; j < basis.length; j++) addScaled(x, s[j], basis[j]);
    let most = 0;
    for (let i = 0; i < n; i++) if (Math.abs(x[i]) > Math.abs(most)) most = x[i];
    for (let i = 0; i < n; i++) x[i] /= most;
  });
  return {
    factors: Float64Array.from(pairs, (p) => 1 / p.theta),
    shapes,
    residuals: Float64Array.from(pairs, (p) => p.residual),
    knockDown: 2,
  };
}
