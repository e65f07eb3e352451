import { invariant, symmetricEigen } from "#engine/numerics";
import { timesTransposed } from "./coupledStructure.ts";
import type { OuterAir } from "./structureParts.ts";

/**
 * The outer air in few rows. The kernel exp(-ikr)/r differs from 1/r smoothly, so what depends on frequency has low rank:
 *   resistance(w) ~ Q' r(w) Q,   mass(w) - mass(lowest) ~ Q' m(w) Q
 * with R rows Q found from the tables themselves. r is kept as its symmetric root b, r = b b, and it is b that is
 * interpolated: the resistance stays positive between the tabled frequencies.
 */
export interface OuterBasis {
  readonly rank: number;
  /** rad/s, ascending. */
  readonly omega: Float64Array;
  /** R x n: Q. */
  readonly rows: Float64Array;
  /** F x R x R: b. */
  readonly root: Float64Array;
  /** F x R x R: m, its first zero. */
  readonly mass: Float64Array;
  /** F x L rows of n: pressure per unit acceleration, travel taken out. */
  readonly pressureRe: Float64Array;
  readonly pressureIm: Float64Array;
  readonly listeners: number;
  readonly travel: Float64Array;
  readonly soundSpeed: number;
}

/** Parts of the frequency-dependent air smaller than this share of the greatest (each coordinate scaled to unit mass) are left out. */
const TOLERANCE = 1e-5;

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
  const root = new Float64Array(f * rank * rank);
  const mass = new Float64Array(f * rank * rank);
  const small = (table: Float64Array, k: number) =>
    timesTransposed(
      timesTransposed(take, table.subarray(k * p * p, (k + 1) * p * p), rank, p, p),
      take,
      rank,
      rank,
      p,
    );
  const first = small(air.mass, 0);
  for (let k = 0; k < f; k++) {
    root.set(symmetricRoot(small(air.resistance, k), rank), k * rank * rank);
    mass.set(
      small(air.mass, k).map((m, i) => m - first[i]),
      k * rank * rank,
    );
  }
  const listeners = air.travel.length;
  const wide = (a: Float64Array) => {
    const out = new Float64Array(f * listeners * n);
    for (let k = 0; k < f * listeners; k++) out.set(a.subarray(k * p, (k + 1) * p), k * n);
    return out;
  };
  return {
    rank,
    omega,
    rows,
    root,
    mass,
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

/** Weights of the tabled frequencies for the value at omega: cubic through the four nearest, the end's value beyond the table. */
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
