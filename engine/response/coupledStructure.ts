import type { OuterBasis } from "./outerBasis.ts";
import { timesTransposed } from "./timesTransposed.ts";

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
