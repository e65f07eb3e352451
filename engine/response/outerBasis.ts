import { invariant, type KernelSource, lowestDense } from "#engine/numerics";
import type { OuterAir } from "./structureParts.ts";
import { timesTransposed } from "./timesTransposed.ts";

/**
 * The outer air in few rows. The kernel exp(-ikr)/r differs from 1/r smoothly, so what depends on frequency has low rank:
 *   resistance(w) ~ Q' r(w) Q,   mass(w) - mass(lowest) ~ P' m(w) P
 * with rows Q and P found from the tables themselves. r is kept as its symmetric root b, r = b b, and it is b that is
 * interpolated between closely laid frequencies: the resistance stays positive there.
 */
export interface OuterBasis {
  /** rad/s, ascending from 0: G frequencies laid closely. */
  readonly omega: Float64Array;
  /** R x n: Q. */
  readonly rows: Float64Array;
  readonly rank: number;
  /** G x R x R: b. */
  readonly root: Float64Array;
  /** Hz: the F frequencies of the table. */
  readonly frequencies: Float64Array;
  /** S x n: P. */
  readonly massRows: Float64Array;
  readonly massRank: number;
  /** F x S x S: m. */
  readonly mass: Float64Array;
  /** F x L rows of n: pressure per unit acceleration, travel taken out. */
  readonly pressureRe: Float64Array;
  readonly pressureIm: Float64Array;
  readonly listeners: number;
  readonly travel: Float64Array;
  readonly soundSpeed: number;
}

/**
 * What is smaller is left out. In coordinates of unit mass w x resistance is a loss factor, of which wood has some 0.02, and
 * the mass twice a relative change of frequency.
 */
const SMALL_LOSS = 5e-4;
const SMALL_MASS = 2e-3;
/** Frequencies laid between 0 and the highest for each of the table. */
const CLOSER = 2;

/** scale: by coordinate of the table, the root of its mass: the measure by which small is small. The table's coordinates are the first of n. */
export function outerBasis(
  air: OuterAir,
  scale: Float64Array,
  n: number,
  kernels?: KernelSource,
): OuterBasis {
  const { count: p, frequencies } = air;
  const f = frequencies.length;
  const omega = frequencies.map((hz) => 2 * Math.PI * hz);
  invariant(
    air.resistance.length === f * p * p,
    () => `${air.resistance.length} resistances for ${f} x ${p}^2`,
  );
  const scaled = (table: Float64Array, k: number, factor: number, base: Float64Array | null) => {
    const a = new Float64Array(p * p);
    for (let i = 0; i < p; i++) {
      for (let j = 0; j < p; j++) {
        const at = i * p + j;
        a[at] = (factor * (table[k * p * p + at] - (base ? base[at] : 0))) / (scale[i] * scale[j]);
      }
    }
    return a;
  };
  const few = [...new Set([f - 1, f >> 1, f >> 2])];
  const loss = range(
    few.map((k) => scaled(air.resistance, k, omega[k], null)),
    p,
    SMALL_LOSS,
  );
  const heavy = range(
    few.map((k) => scaled(air.mass, k, 1, air.mass)),
    p,
    SMALL_MASS,
  );
  const resistances = inRange(air.resistance, loss, scale, f, p);
  const masses = inRange(air.mass, heavy, scale, f, p);
  const rank = loss.length / p;
  const size = rank * rank;
  const g = CLOSER * f + 1;
  const close = Float64Array.from({ length: g }, (_, k) => (omega[f - 1] * k) / (g - 1));
  const root = new Float64Array(g * size);
  const own = new Float64Array(size);
  close.forEach((w, k) => {
    mix(resistances, evenWeights(frequencies, w / (2 * Math.PI)), own);
    root.set(symmetricRoot(own, rank, kernels), k * size);
  });
  const wide = (a: Float64Array, factor: Float64Array | null) => {
    const out = new Float64Array((a.length / p) * n);
    for (let k = 0; k < a.length / p; k++)
      for (let i = 0; i < p; i++) out[k * n + i] = a[k * p + i] * (factor ? factor[i] : 1);
    return out;
  };
  const first = masses.slice(0, masses.length / f);
  return {
    omega: close,
    rows: wide(loss, scale),
    rank,
    root,
    frequencies,
    massRows: wide(heavy, scale),
    massRank: heavy.length / p,
    mass: masses.map((m, i) => m - first[i % first.length]),
    pressureRe: wide(air.pressureRe, null),
    pressureIm: wide(air.pressureIm, null),
    listeners: air.travel.length,
    travel: air.travel,
    soundSpeed: air.soundSpeed,
  };
}

/** Orthonormal rows (rank x p) that span the given symmetric matrices but for `small`: pivoted Cholesky of the sum of their squares. */
function range(matrices: readonly Float64Array[], p: number, small: number): Float64Array {
  const gram = new Float64Array(p * p);
  for (const a of matrices) {
    const square = timesTransposed(a, a, p, p, p, true);
    for (let i = 0; i < p * p; i++) gram[i] += square[i];
  }
  const left = Float64Array.from({ length: p }, (_, i) => gram[i * (p + 1)]);
  const rows: Float64Array[] = [];
  const factors: Float64Array[] = [];
  for (let step = 0; step < p; step++) {
    let at = 0;
    let sum = 0;
    for (let i = 0; i < p; i++) {
      sum += Math.max(0, left[i]);
      if (left[i] > left[at]) at = i;
    }
    if (!(sum > small ** 2)) break;
    const column = gram.slice(at * p, (at + 1) * p);
    for (const f of factors) take(column, f, f[at]);
    const pivot = Math.sqrt(column[at]);
    if (!(pivot > 0)) break;
    for (let i = 0; i < p; i++) {
      column[i] /= pivot;
      left[i] -= column[i] ** 2;
    }
    factors.push(column);
    const row = column.slice();
    for (let pass = 0; pass < 2; pass++) {
      for (const r of rows) take(row, r, dot(r, row));
      const norm = Math.sqrt(dot(row, row));
      for (let i = 0; i < p; i++) row[i] /= norm;
    }
    rows.push(row);
  }
  const out = new Float64Array(rows.length * p);
  rows.forEach((row, r) => {
    out.set(row, r * p);
  });
  return out;
}

function dot(x: Float64Array, y: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i] * y[i];
  return sum;
}

function take(from: Float64Array, row: Float64Array, factor: number): void {
  for (let i = 0; i < from.length; i++) from[i] -= factor * row[i];
}

/** F tables (p x p) seen in the rows of a range: x_scaled = scale x, so that T ~ S V (V' S^-1 T S^-1 V) V' S. */
function inRange(
  tables: Float64Array,
  rows: Float64Array,
  scale: Float64Array,
  f: number,
  p: number,
): Float64Array {
  const rank = rows.length / p;
  const take = rows.map((v, i) => v / scale[i % p]);
  const out = new Float64Array(f * rank * rank);
  for (let k = 0; k < f; k++) {
    const half = timesTransposed(take, tables.subarray(k * p * p, (k + 1) * p * p), rank, p, p);
    out.set(timesTransposed(half, take, rank, rank, p), k * rank * rank);
  }
  return out;
}

/** b = b' >= 0 with b b = a; what rounding makes negative in a counts as 0. */
function symmetricRoot(a: Float64Array, n: number, kernels?: KernelSource): Float64Array {
  const one = new Float64Array(n * n);
  for (let i = 0; i < n; i++) one[i * (n + 1)] = 1;
  const eigen = lowestDense(a, one, n, n, kernels);
  invariant(eigen.ok, () => `the resistance outside of rank ${n} has no root`);
  const { values, vectors } = eigen.value;
  const out = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const root = Math.sqrt(Math.max(0, values[k]));
    for (let i = 0; i < n; i++) {
      const v = root * vectors[k * n + i];
      for (let j = 0; j < n; j++) out[i * n + j] += v * vectors[k * n + j];
    }
  }
  return out;
}

/** Weights of the frequencies (rad/s) for the value at omega: cubic through the four nearest, the end's value beyond them. */
export function tableWeights(table: Float64Array, omega: number): Float64Array {
  const f = table.length;
  const out = new Float64Array(f);
  const w = Math.min(Math.max(omega, table[0]), table[f - 1]);
  let from = 0;
  while (from < f - 2 && table[from + 1] <= w) from++;
  const first = Math.max(0, Math.min(from - 1, f - 4));
  const last = Math.min(f - 1, first + 3);
  for (let i = first; i <= last; i++) {
    let product = 1;
    for (let j = first; j <= last; j++) if (j !== i) product *= (w - table[j]) / (table[i] - table[j]);
    out[i] = product;
  }
  return out;
}

/**
 * Weights of the outer air's frequencies (Hz) for the value at a frequency between 0 and the highest: the polynomial in the square
 * of frequency through all of them, which they are laid for (Chebyshev points); beyond, the value at the highest.
 */
export function evenWeights(frequencies: Float64Array, at: number): Float64Array {
  const count = frequencies.length;
  const top = frequencies[count - 1];
  const x = Math.min(top * top, at * at);
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const own = frequencies[i] * frequencies[i];
    let above = 1;
    let below = 1;
    for (let j = 0; j < count; j++) {
      if (j === i) continue;
      const other = frequencies[j] * frequencies[j];
      above *= (x - other) / (top * top);
      below *= (own - other) / (top * top);
    }
    out[i] = above / below;
  }
  return out;
}

/** out = sum of weight x table, tables one after the other. */
function mix(tables: Float64Array, weights: Float64Array, out: Float64Array): void {
  const size = out.length;
  out.fill(0);
  for (let f = 0; f < weights.length; f++) {
    const w = weights[f];
    if (w === 0) continue;
    for (let i = 0; i < size; i++) out[i] += w * tables[f * size + i];
  }
}
