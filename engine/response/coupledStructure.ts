import type { OuterBasis } from "./outerBasis.ts";

/**
 * The coupled equations of structure, opening, inner and outer air in n coordinates
 *   [structure P (rigid motions first), aperture patterns A, y_n of the cavity modes n >= 1]
 * symmetric and positive, losses apart:
 *   ( K + i D + air(w) - w^2 M ) x = f
 * Cavity mode n has the pressure a_n = kappa_n e_n, e_n = y_n - S_n x (no y_0), kappa_n = rho c^2/V_n, and the inertia
 * m_n = kappa_n/omega_n^2 of y_n: from a_n'' + omega_n^2 a_n = -kappa_n S_n x''. K holds kappa_n e_n e_n', M holds m_n, the
 * cavity's modes beyond the list as mass, the outer air's mass at the lowest frequency of its table. What depends on
 * frequency is in `laws` and `outside`. Every form is a row of n numbers: other coordinates z, x = T z, turn rows into rows T
 * and matrices into T' . T (`inCoordinates`).
 */
export interface CoupledStructure {
  readonly n: number;
  readonly rigidCount: number;
  /** P. */
  readonly structureCount: number;
  readonly apertureCount: number;
  /** n x n each. */
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
  /** n x n: D, the imaginary part of the structure's stiffness. */
  readonly wood: Float64Array;
  readonly laws: CavityLaws | null;
  readonly outside: OuterBasis | null;
  readonly rows: CoupledRows;
  /** A x A, kg/m4: inertance of the opening. */
  readonly inertance: Float64Array;
  /** 3C x 3C, m/N: static compliance that the coordinates lack. */
  readonly residual: Float64Array;
  /** rad/s: of undamped modes above, what they yield at rest is kept, no more. Absent: every mode is kept. */
  readonly staticAbove?: number;
}

/** What of the cavity depends on frequency. */
export interface CavityLaws {
  /** Cavity modes, the even pressure first. */
  readonly count: number;
  /** kappa_n, Pa/m3. */
  readonly stiffness: Float64Array;
  /** m_n, kg/m4 of y_n; 0 for n = 0. */
  readonly inertia: Float64Array;
  readonly heat: Float64Array;
  readonly friction: Float64Array;
  readonly leak: number;
  /** count x n: e_n. */
  readonly strain: Float64Array;
  /** count x n: y_n (row 0 is zero). */
  readonly flow: Float64Array;
  /** Rows g with viscous = sum g g': resistance of the opening over sqrt(w). */
  readonly rub: Float64Array;
}

/** What is asked of a motion: rows of n numbers. */
export interface CoupledRows {
  /** 3C rows: [normal, across, along] of each crown. */
  readonly crowns: Float64Array;
  /** Along the normal at the saddle's midpoint crown. */
  readonly saddle: Float64Array;
  /** 4 rows: volume swept outward by top, back, sides, and through the opening. */
  readonly flow: Float64Array;
  /** 3 rows by station of the neck, in the order of `NeckLine`. */
  readonly neck: Float64Array;
  /** P rows: the structure's own coordinates; A rows: the opening's. */
  readonly structure: Float64Array;
  readonly aperture: Float64Array;
}

/** The same equations in m other coordinates z, x = T z; T: m vectors of n, row by row. The residual stays. */
export function inCoordinates(c: CoupledStructure, t: Float64Array): CoupledStructure {
  const { n } = c;
  const m = t.length / n;
  return turnedStructure(
    c,
    m,
    (a) => timesTransposed(a, t, a.length / n, m, n),
    (a) => timesTransposed(timesTransposed(t, a, m, n, n), t, m, m, n, true),
  );
}

/** The same equations with every table of rows over the n coordinates, and every n x n form, taken over to m others. */
export function turnedStructure(
  c: CoupledStructure,
  m: number,
  rows: (a: Float64Array) => Float64Array,
  form: (a: Float64Array) => Float64Array,
): CoupledStructure {
  return {
    ...c,
    n: m,
    stiffness: form(c.stiffness),
    mass: form(c.mass),
    wood: form(c.wood),
    laws: c.laws && {
      ...c.laws,
      strain: rows(c.laws.strain),
      flow: rows(c.laws.flow),
      rub: rows(c.laws.rub),
    },
    outside: c.outside && {
      ...c.outside,
      rows: rows(c.outside.rows),
      massRows: rows(c.outside.massRows),
      pressureRe: rows(c.outside.pressureRe),
      pressureIm: rows(c.outside.pressureIm),
    },
    rows: {
      crowns: rows(c.rows.crowns),
      saddle: rows(c.rows.saddle),
      flow: rows(c.rows.flow),
      neck: rows(c.rows.neck),
      structure: rows(c.rows.structure),
      aperture: rows(c.rows.aperture),
    },
  };
}

/**
 * A B', A rows x inner and B columns x inner, row by row; two rows by four columns at a time. `symmetric`: the result is known to
 * be, and half of it is computed.
 */
export function timesTransposed(
  a: Float64Array,
  b: Float64Array,
  rows: number,
  columns: number,
  inner: number,
  symmetric = false,
): Float64Array {
  const picked = singleEntries(b, columns, inner);
  const out = new Float64Array(rows * columns);
  if (picked !== null) {
    for (let i = 0; i < rows; i++)
      for (let j = 0; j < columns; j++)
        out[i * columns + j] = a[i * inner + picked[j]] * b[j * inner + picked[j]];
    return out;
  }
  const evenRows = rows & ~1;
  const wholeColumns = columns & ~3;
  for (let i = 0; i < evenRows; i += 2) {
    const end = symmetric ? Math.min(wholeColumns, i + 2) : wholeColumns;
    for (let j = 0; j < end; j += 4)
      twoByFour(a, i * inner, b, j * inner, inner, out, i * columns + j, columns);
  }
  for (let i = 0; i < evenRows; i++)
    for (let j = wholeColumns; j < columns; j++)
      out[i * columns + j] = dot(a, i * inner, b, j * inner, inner);
  if (evenRows < rows)
    for (let j = 0; j < columns; j++)
      out[evenRows * columns + j] = dot(a, evenRows * inner, b, j * inner, inner);
  if (symmetric)
    for (let i = 1; i < rows; i++) for (let j = 0; j < i; j++) out[j * columns + i] = out[i * columns + j];
  return out;
}

/** Two rows of A by four of B; apart from its loops, so that the engine compiles little and once. */
function twoByFour(
  a: Float64Array,
  x: number,
  b: Float64Array,
  y: number,
  inner: number,
  out: Float64Array,
  to: number,
  columns: number,
): void {
  const z = (x + inner) | 0;
  const y1 = (y + inner) | 0;
  const y2 = (y1 + inner) | 0;
  const y3 = (y2 + inner) | 0;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let t0 = 0;
  let t1 = 0;
  let t2 = 0;
  let t3 = 0;
  for (let k = 0; k < inner; k = (k + 1) | 0) {
    const u = a[(x + k) | 0];
    const v = a[(z + k) | 0];
    const b0 = b[(y + k) | 0];
    const b1 = b[(y1 + k) | 0];
    const b2 = b[(y2 + k) | 0];
    const b3 = b[(y3 + k) | 0];
    s0 += u * b0;
    s1 += u * b1;
    s2 += u * b2;
    s3 += u * b3;
    t0 += v * b0;
    t1 += v * b1;
    t2 += v * b2;
    t3 += v * b3;
  }
  out[to] = s0;
  out[to + 1] = s1;
  out[to + 2] = s2;
  out[to + 3] = s3;
  out[to + columns] = t0;
  out[to + columns + 1] = t1;
  out[to + columns + 2] = t2;
  out[to + columns + 3] = t3;
}

function dot(a: Float64Array, i: number, b: Float64Array, j: number, length: number): number {
  let sum = 0;
  for (let k = 0; k < length; k++) sum += a[i + k] * b[j + k];
  return sum;
}

/** Place of the one entry in each of B's rows that is not zero (any, where all are); null if a row has more. */
function singleEntries(b: Float64Array, rows: number, inner: number): Int32Array | null {
  if (inner === 0) return null;
  const out = new Int32Array(rows);
  for (let j = 0; j < rows; j++) {
    let found = 0;
    for (let k = 0; k < inner; k++) {
      if (b[j * inner + k] === 0) continue;
      if (found++ > 0) return null;
      out[j] = k;
    }
  }
  return out;
}
