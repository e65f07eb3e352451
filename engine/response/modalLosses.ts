import type { CoupledStructure } from "./coupledStructure.ts";
import { evenWeights, tableWeights } from "./outerBasis.ts";
import { symmetricMixer } from "./symmetricMixer.ts";
import { timesTransposed } from "./timesTransposed.ts";

/** Undamped modes of the coupled body, mass-normalised. */
export interface UndampedModes {
  readonly count: number;
  /** omega^2, ascending. */
  readonly square: Float64Array;
  /** count x n. */
  readonly vectors: Float64Array;
}

/** What damping makes of the equations of the undamped modes: ( re + i im ) - w^2 ( 1 + mass - i g g' ). */
export interface ModalLosses {
  /** count x count: stiffness with what depends on frequency, and its loss; both symmetric, the loss positive semidefinite. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** count x count: change of the mass with frequency. */
  readonly mass: Float64Array;
  /** count x width: g, loss that grows with the acceleration. */
  readonly inertial: Float64Array;
  readonly width: number;
  /** count x 3 [wood, hole and leak, radiation]: each mode's own loss by its causes, as a stiffness. */
  readonly parts: Float64Array;
}

/**
 * The frequency-dependent equations X'( K + i D + air(w) - w^2 M )X made linear in w^2, every term taken at the modes' own
 * frequencies. Laws at w > 0, with e_n, y_n of `CoupledStructure`:
 *   kappa_n(w) = kappa_n / (1 + (1 - i) h_n w^-1/2 + kappa_n G/(i w))        heat in the walls' layer; leak G (n = 0 alone)
 *   - w^2 m_n (1 - i) f_n w^-1/2                                             friction in the walls' layer
 *   i w^3/2 rub,   i w^3 resistance - w^2 (mass - mass at the lowest frequency) of the outer air
 * A loss w -> l(w) g g' with the l of the walls' heat becomes (root l(w_i) g_i)(root l(w_j) g_j); one that grows with w about as
 * an inertia does (friction, radiation) becomes w^2 (root l(w_i) g_i/w_i)(root l(w_j) g_j/w_j): exact on each mode, close to
 * the law between modes, and a Gram matrix either way, so that the sum over the damped modes takes energy at every
 * frequency. (Radiation as a stiffness loses the cancelling of plates' and hole's flows: 1.7 times too much real part
 * between main air and main top.) A stiffness w -> k(w) g g' becomes (k(w_i) + k(w_j))/2 g_i g_j, a mass likewise.
 */
export function modalLosses(c: CoupledStructure, modes: UndampedModes): ModalLosses {
  const { n, laws, outside } = c;
  const { count, square, vectors } = modes;
  const omega = square.map(Math.sqrt);
  const im = timesTransposed(timesTransposed(vectors, c.wood, count, n, n), vectors, count, count, n, true);
  const re = new Float64Array(count * count);
  const parts = new Float64Array(3 * count);
  for (let i = 0; i < count; i++) {
    re[i * count + i] = square[i];
    parts[3 * i] = im[i * count + i];
  }
  const mass = new Float64Array(count * count);
  const addMean = (to: Float64Array, scaled: Float64Array, plain: Float64Array, width: number) => {
    const half = timesTransposed(scaled, plain, count, count, width);
    for (let i = 0; i < count; i++)
      for (let j = 0; j < count; j++) to[i * count + j] += 0.5 * (half[i * count + j] + half[j * count + i]);
  };
  const k = laws?.count ?? 0;
  const rubs = laws ? laws.rub.length / n : 0;
  const r = outside?.rank ?? 0;
  const width = k + rubs + r;
  const inertial = new Float64Array(count * width);
  if (laws) {
    const strain = timesTransposed(vectors, laws.strain, count, k, n);
    const flow = timesTransposed(vectors, laws.flow, count, k, n);
    const gram = new Float64Array(count * k);
    const softened = new Float64Array(count * k);
    const heavier = new Float64Array(count * k);
    const rub = timesTransposed(vectors, laws.rub, count, rubs, n);
    for (let i = 0; i < count; i++) {
      for (let m = 0; m < k; m++) {
        const air = airChange(laws, m, omega[i]);
        const e = strain[i * k + m];
        const y = flow[i * k + m];
        gram[i * k + m] = Math.sqrt(air.strainIm) * e;
        inertial[i * width + m] = (Math.sqrt(air.friction) * y) / omega[i];
        softened[i * k + m] = air.strainRe * e;
        heavier[i * k + m] = (air.friction * y) / square[i];
        parts[3 * i + 1] += air.strainIm * e * e + air.friction * y * y;
      }
      for (let m = 0; m < rubs; m++) {
        inertial[i * width + k + m] = omega[i] ** -0.25 * rub[i * rubs + m];
        parts[3 * i + 1] += omega[i] ** 1.5 * rub[i * rubs + m] ** 2;
      }
    }
    const warm = timesTransposed(gram, gram, count, count, k, true);
    for (let i = 0; i < warm.length; i++) im[i] += warm[i];
    addMean(re, softened, strain, k);
    addMean(mass, heavier, flow, k);
  }
  if (outside) {
    const q = timesTransposed(vectors, outside.rows, count, r, n);
    const top = outside.omega[outside.omega.length - 1];
    const root = symmetricMixer(outside.root, r);
    for (let i = 0; i < count; i++) {
      // Beyond the table the resistance itself stays: w^2 r(w) is held.
      const loss = Math.min(omega[i], top) / Math.sqrt(omega[i]);
      const to = i * width + k + rubs;
      root(tableWeights(outside.omega, omega[i]), q, i * r, inertial, to);
      for (let a = to; a < to + r; a++) {
        inertial[a] *= loss;
        parts[3 * i + 2] += square[i] * inertial[a] ** 2;
      }
    }
    const s = outside.massRank;
    const moved = timesTransposed(vectors, outside.massRows, count, s, n);
    const heavier = new Float64Array(count * s);
    const here = symmetricMixer(outside.mass, s);
    for (let i = 0; i < count; i++)
      here(evenWeights(outside.frequencies, omega[i] / (2 * Math.PI)), moved, i * s, heavier, i * s);
    addMean(mass, heavier, moved, s);
  }
  return { re, im, mass, inertial, width, parts };
}

export interface AirChange {
  /** kappa_n(w) - kappa_n: coefficient of e_n e_n'. */
  readonly strainRe: number;
  readonly strainIm: number;
  /** w^3/2 m_n f_n: (-1 + i) times it is the coefficient of y_n y_n'. */
  readonly friction: number;
}

/** The cavity's mode n at omega > 0: see `modalLosses`. */
export function airChange(laws: NonNullable<CoupledStructure["laws"]>, n: number, omega: number): AirChange {
  const root = Math.sqrt(omega);
  const kappa = laws.stiffness[n];
  const heat = laws.heat[n] / root;
  const leak = n === 0 ? (kappa * laws.leak) / omega : 0;
  // kappa/(1 + heat - i (heat + leak))
  const a = 1 + heat;
  const b = heat + leak;
  const size = kappa / (a * a + b * b);
  return {
    strainRe: size * a - kappa,
    strainIm: size * b,
    friction: omega * root * laws.inertia[n] * laws.friction[n],
  };
}
