import { type Complex, complexLu, complexLuSolve, complexSqrt } from "#engine/numerics";
import { airTerms } from "./airLaws.ts";
import type { AirLaws } from "./coupledSystem.ts";

/** The coupled equations in the coordinates of their own undamped modes. */
export interface ModalSystem {
  readonly count: number;
  /** count: omega^2. */
  readonly square: Float64Array;
  /** count x count: hysteretic loss, X' diag(loss) X. */
  readonly loss: Float64Array;
  /** count: whole flow and the hole's flow of each mode. */
  readonly flow: Float64Array;
  readonly hole: Float64Array;
  readonly air: AirLaws;
}

export interface DampedModes {
  /** By mode: complex w, Im > 0 decays. */
  readonly w: readonly Complex[];
  /** count x 3: [wood, hole and leak, radiation], sum 1. */
  readonly lossShare: Float64Array;
  /** By mode: true where the search left the mode and its first-order value is kept. */
  readonly firstOrder: readonly boolean[];
}

/** A mode is solved together with so many neighbours in frequency: farther ones enter at second order of loss only. */
const NEIGHBOURS = 24;
const ROUNDS = 30;

/**
 * Complex frequencies of the damped modes, including the terms that depend on frequency, by inverse iteration with the
 * Rayleigh quotient:  x <- Z(w)^-1 x,  w^2 <- x'(Lambda + i D + air(w))x / x'x  (transposes, not conjugates: Z is
 * complex symmetric). Starts from the undamped mode. Where the search leaves its mode for a neighbour (two modes closer
 * than their half-widths) the first-order value is kept and marked.
 */
export function dampedModes(system: ModalSystem, neighbours = NEIGHBOURS): DampedModes {
  const { count } = system;
  const w: Complex[] = [];
  const lossShare = new Float64Array(3 * count);
  const firstOrder: boolean[] = [];
  for (let i = 0; i < count; i++) {
    const window = nearest(system.square, i, Math.min(count, neighbours));
    const found = oneMode(system, i, window);
    firstOrder.push(!found.kept);
    w.push(found.w);
    lossShare.set(shares(system, window, found), 3 * i);
  }
  return { w, lossShare, firstOrder };
}

interface OneMode {
  readonly w: Complex;
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly kept: boolean;
}

function oneMode(system: ModalSystem, mode: number, window: Uint32Array): OneMode {
  const n = window.length;
  const home = window.indexOf(mode);
  let re: Float64Array = new Float64Array(n);
  let im: Float64Array = new Float64Array(n);
  re[home] = 1;
  let w = quotient(system, window, re, im, { re: Math.sqrt(system.square[mode]), im: 0 });
  const first: OneMode = { w, re, im, kept: false };
  for (let round = 0; round < ROUNDS; round++) {
    const z = dynamicStiffness(system, window, w);
    const lu = complexLu(z.re, z.im, n);
    // Singular to rounding: w is the eigenvalue and x its vector already.
    if (!lu.ok) return { w, re, im, kept: true };
    const next = complexLuSolve(lu.value, re, im);
    ({ re, im } = normalised(next.re, next.im));
    for (let k = 0; k < n; k++) {
      if (Math.hypot(re[k], im[k]) > Math.hypot(re[home], im[home]) * (1 + 1e-9)) return first;
    }
    const before = w;
    w = quotient(system, window, re, im, w);
    if (Math.hypot(w.re - before.re, w.im - before.im) < 1e-12 * w.re) return { w, re, im, kept: true };
  }
  return first;
}

/** Scaled to x'x = 1 (no conjugate). */
function normalised(re: Float64Array, im: Float64Array): { re: Float64Array; im: Float64Array } {
  let sr = 0;
  let si = 0;
  let largest = 0;
  for (let k = 0; k < re.length; k++) largest = Math.max(largest, Math.hypot(re[k], im[k]));
  for (let k = 0; k < re.length; k++) {
    const [a, b] = [re[k] / largest, im[k] / largest];
    sr += a * a - b * b;
    si += 2 * a * b;
  }
  const root = complexSqrt({ re: sr, im: si });
  const size = (root.re ** 2 + root.im ** 2) * largest;
  return {
    re: re.map((v, k) => (v * root.re + im[k] * root.im) / size),
    im: im.map((v, k) => (v * root.re - re[k] * root.im) / size),
  };
}

/** w = sqrt( x'(Lambda + i D + air(w0)) x ) for x'x = 1. */
function quotient(
  system: ModalSystem,
  window: Uint32Array,
  re: Float64Array,
  im: Float64Array,
  w0: Complex,
): Complex {
  const z = dynamicStiffness(system, window, w0);
  const n = window.length;
  let sr = 0;
  let si = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const pr = re[i] * re[j] - im[i] * im[j];
      const pi = re[i] * im[j] + im[i] * re[j];
      sr += z.re[i * n + j] * pr - z.im[i * n + j] * pi;
      si += z.re[i * n + j] * pi + z.im[i * n + j] * pr;
    }
  }
  return complexSqrt({ re: sr + w0.re * w0.re - w0.im * w0.im, im: si + 2 * w0.re * w0.im });
}

/** Lambda - w^2 + i D + air(w) over the window, row by row. */
function dynamicStiffness(
  system: ModalSystem,
  window: Uint32Array,
  w: Complex,
): { re: Float64Array; im: Float64Array } {
  const n = window.length;
  const terms = airTerms(system.air, w);
  const re = new Float64Array(n * n);
  const im = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [a, b] = [window[i], window[j]];
      const flow = system.flow[a] * system.flow[b];
      const hole = system.hole[a] * system.hole[b];
      re[i * n + j] = terms.whole.re * flow + terms.hole.re * hole;
      im[i * n + j] = system.loss[a * system.count + b] + terms.whole.im * flow + terms.hole.im * hole;
    }
    re[i * n + i] += system.square[window[i]] - (w.re * w.re - w.im * w.im);
    im[i * n + i] -= 2 * w.re * w.im;
  }
  return { re, im };
}

/** Shares of the energy lost per cycle: x^H (Im part) x of each term at the mode's own frequency. */
function shares(system: ModalSystem, window: Uint32Array, mode: OneMode): [number, number, number] {
  const { re, im } = mode;
  const n = window.length;
  const terms = airTerms(system.air, { re: mode.w.re, im: 0 });
  let wood = 0;
  let [fr, fi, hr, hi] = [0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    fr += system.flow[window[i]] * re[i];
    fi += system.flow[window[i]] * im[i];
    hr += system.hole[window[i]] * re[i];
    hi += system.hole[window[i]] * im[i];
    for (let j = 0; j < n; j++) {
      wood += system.loss[window[i] * system.count + window[j]] * (re[i] * re[j] + im[i] * im[j]);
    }
  }
  const flow = fr * fr + fi * fi;
  const hole = terms.hole.im * (hr * hr + hi * hi) + terms.cavity.im * flow;
  const radiated = terms.radiation.im * flow;
  const total = wood + hole + radiated;
  return [wood / total, hole / total, radiated / total];
}

/** Indices of the modes nearest in frequency to one (square ascending), itself included, ascending. */
function nearest(square: Float64Array, mode: number, count: number): Uint32Array {
  let low = mode;
  let high = mode;
  while (high - low + 1 < count) {
    const below = low > 0 ? square[mode] - square[low - 1] : Number.POSITIVE_INFINITY;
    const above = high < square.length - 1 ? square[high + 1] - square[mode] : Number.POSITIVE_INFINITY;
    if (below <= above) low--;
    else high++;
  }
  return Uint32Array.from({ length: high - low + 1 }, (_, k) => low + k);
}
