import { invariant, symmetricEigen } from "#engine/numerics";
import { timesTransposed } from "./coupledStructure.ts";
import type { OuterAir } from "./structureParts.ts";

/**
 * The outer air in few rows. The kernel exp(-ikr)/r differs from 1/r smoothly, so what depends on frequency has low rank:
 *   resistance(w) ~ Q' r(w) Q,   mass(w) - mass(lowest) ~ Q' m(w) Q
 * with R rows Q found from the tables themselves. r is kept as its symmetric root b, r = b b, and it is b that is
 * interpolated between closely laid frequencies: the resistance stays positive there.
 */
export interface OuterBasis {
  readonly rank: number;
  /** rad/s, ascending from 0: G frequencies laid closely. */
  readonly omega: Float64Array;
  /** R x n: Q. */
  readonly rows: Float64Array;
  /** G x R x R: b. */
  readonly root: Float64Array;
  /** G x R x R: m. */
  readonly mass: Float64Array;
  /** Hz: the F frequencies of the table. */
  readonly frequencies: Float64Array;
  /** F x L rows of n: pressure per unit acceleration, travel taken out. */
  readonly pressureRe: Float64Array;
  readonly pressureIm: Float64Array;
  readonly listeners: number;
  readonly travel: Float64Array;
  readonly soundSpeed: number;
}

/** Parts of the frequency-dependent air smaller than this share of the greatest (each coordinate scaled to unit mass) are left out. */
const TOLERANCE = 1e-5;
/** Frequencies laid between 0 and the highest for each of the table. */
const CLOSER = 3;

/** scale: by coordinate of the table, the root of its mass: the measure by which small is small. The first n coordinates of x are the table's. */
export function outerBasis(air: OuterAir, scale: Float64Array, n: number): OuterBasis {
  const { count: p, frequencies } = air;
  const f = frequencies.length;
  const omega = frequencies.map((hz) => 2 * Math.PI * hz);
  invariant(
    air.resistance.length === f * p * p,
    () => `${air.resistance.length} resistances for ${f} x ${p}^2`,
  );
  // Gram matrix of the columns of a few of the tables, in kg of scaled coordinates; resistance over w is a mass as well.
  const gram = new Float64Array(p * p);
  for (const k of new Set([f - 1, f >> 1, f >> 2])) {
    for (const [table, factor, from] of [
      [air.resistance, omega[k], -1],
      [air.mass, 1, 0],
    ] as const) {
      const a = new Float64Array(p * p);
      for (let i = 0; i < p; i++) {
        for (let j = 0; j < p; j++) {
          const base = from < 0 ? 0 : table[i * p + j];
          a[i * p + j] = (factor * (table[(k * p + i) * p + j] - base)) / (scale[i] * scale[j]);
        }
      }
      const square = timesTransposed(a, a, p, p, p);
      for (let i = 0; i < p * p; i++) gram[i] += square[i];
    }
  }
  const { values, vectors } = symmetricEigen(gram, p);
  let rank = 0;
  while (rank < p && values[p - 1 - rank] > TOLERANCE ** 2 * values[p - 1]) rank++;
  const rows = new Float64Array(rank * n);
  // x_scaled = scale x: the table in scaled coordinates is V (V' T V) V', V orthonormal.
  const take = new Float64Array(rank * p);
  for (let r = 0; r < rank; r++) {
    for (let i = 0; i < p; i++) {
      const v = vectors[(p - 1 - r) * p + i];
      rows[r * n + i] = v * scale[i];
      take[r * p + i] = v / scale[i];
    }
  }
  const small = (table: Float64Array, k: number) =>
    timesTransposed(
      timesTransposed(take, table.subarray(k * p * p, (k + 1) * p * p), rank, p, p),
      take,
      rank,
      rank,
      p,
    );
  const size = rank * rank;
  const resistances = new Float64Array(f * size);
  const masses = new Float64Array(f * size);
  for (let k = 0; k < f; k++) {
    resistances.set(small(air.resistance, k), k * size);
    masses.set(small(air.mass, k), k * size);
  }
  const g = CLOSER * f + 1;
  const close = Float64Array.from({ length: g }, (_, k) => (omega[f - 1] * k) / (g - 1));
  const root = new Float64Array(g * size);
  const mass = new Float64Array(g * size);
  const own = new Float64Array(size);
  close.forEach((w, k) => {
    const weights = evenWeights(frequencies, w / (2 * Math.PI));
    mix(resistances, weights, own);
    root.set(symmetricRoot(own, rank), k * size);
    mix(masses, weights, own);
    for (let i = 0; i < size; i++) mass[k * size + i] = own[i] - masses[i];
  });
  const listeners = air.travel.length;
  const wide = (a: Float64Array) => {
    const out = new Float64Array(f * listeners * n);
    for (let k = 0; k < f * listeners; k++) out.set(a.subarray(k * p, (k + 1) * p), k * n);
    return out;
  };
  return {
    rank,
    omega: close,
    rows,
    root,
    mass,
    frequencies,
    pressureRe: wide(air.pressureRe),
    pressureIm: wide(air.pressureIm),
    listeners,
    travel: air.travel,
    soundSpeed: air.soundSpeed,
  };
}

/** b = b' >= 0 with b b = a; what rounding makes negative in a counts as 0. */
function symmetricRoot(a: Float64Array, n: number): Float64Array {
  const { values, vectors } = symmetricEigen(a, n);
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
  const top = frequencies[frequencies.length - 1];
  const s = frequencies.map((f) => (f / top) ** 2);
  const x = Math.min(1, (at / top) ** 2);
  return s.map((own, i) => {
    let weight = 1;
    for (let j = 0; j < s.length; j++) if (j !== i) weight *= (x - s[j]) / (own - s[j]);
    return weight;
  });
}

/** out = sum of weight x table, tables one after the other. */
export function mix(tables: Float64Array, weights: Float64Array, out: Float64Array): void {
  const size = out.length;
  out.fill(0);
  for (let f = 0; f < weights.length; f++) {
    const w = weights[f];
    if (w === 0) continue;
    for (let i = 0; i < size; i++) out[i] += w * tables[f * size + i];
  }
}
