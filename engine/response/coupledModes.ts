import { done, failed, generalizedSymmetricEigen, type Outcome, symmetricEigen } from "#engine/numerics";
import type { CoupledSystem } from "./coupledSystem.ts";

/** Undamped modes of the coupled body, mass-normalised. */
export interface CoupledModes {
  readonly count: number;
  /** count: omega^2, ascending. */
  readonly square: Float64Array;
  /** count x n. */
  readonly vectors: Float64Array;
  /** rigidCount x n: motions of the whole body, mass-normalised. */
  readonly rigid: Float64Array;
}

/**
 * K x = omega^2 M x with the air's frequency-dependent terms at 0. The rigid motions are the rim's own coordinates, known
 * without solving. Fails with 'not-positive-definite' if the mass is not, 'not-stable' if a mode has no stiffness.
 */
export function coupledModes(system: CoupledSystem): Outcome<CoupledModes> {
  const { n, rigidCount, topCount, backCount } = system;
  const eigen = generalizedSymmetricEigen(system.stiffness, system.mass, n);
  if (!eigen.ok) return failed(eigen.reason, `mass of the coupled body: ${eigen.detail}`);
  const square = eigen.value.values.slice(rigidCount);
  if (!(square[0] > 0)) return failed("not-stable", `the lowest mode of the body has omega^2 = ${square[0]}`);
  return done({
    count: n - rigidCount,
    square,
    vectors: eigen.value.vectors.slice(rigidCount * n),
    rigid: rigidMotions(system, topCount + backCount),
  });
}

function rigidMotions(system: CoupledSystem, at: number): Float64Array {
  const { n, rigidCount: r, mass } = system;
  const own = new Float64Array(r * r);
  for (let i = 0; i < r; i++) {
    for (let j = 0; j < r; j++) own[i * r + j] = mass[(at + i) * n + at + j];
  }
  const { values, vectors } = symmetricEigen(own, r);
  const out = new Float64Array(r * n);
  for (let i = 0; i < r; i++) {
    for (let j = 0; j < r; j++) out[i * n + at + j] = vectors[i * r + j] / Math.sqrt(values[i]);
  }
  return out;
}

/** Value of a linear form (n) on each of the vectors (count x n). */
export function onEach(vectors: Float64Array, form: Float64Array): Float64Array {
  const n = form.length;
  const out = new Float64Array(vectors.length / n);
  for (let i = 0; i < out.length; i++) {
    for (let k = 0; k < n; k++) out[i] += vectors[i * n + k] * form[k];
  }
  return out;
}

/** count x count: X' diag(loss) X. */
export function modalLoss(system: CoupledSystem, modes: CoupledModes): Float64Array {
  const { n, loss } = system;
  const { count, vectors } = modes;
  const out = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    const weighted = loss.map((l, k) => l * vectors[i * n + k]);
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < n; k++) sum += weighted[k] * vectors[j * n + k];
      out[i * count + j] = out[j * count + i] = sum;
    }
  }
  return out;
}

/** count x 3 [top, back, hole]: x times (M x) over each part's coordinates; what is left to 1 is the rim's. */
export function kineticShares(system: CoupledSystem, modes: CoupledModes): Float64Array {
  const { n, mass, topCount, backCount } = system;
  const out = new Float64Array(3 * modes.count);
  for (let i = 0; i < modes.count; i++) {
    const x = modes.vectors.subarray(i * n, i * n + n);
    for (let k = 0; k < n; k++) {
      const part = k < topCount ? 0 : k < topCount + backCount ? 1 : k === system.hole ? 2 : -1;
      if (part < 0) continue;
      let sum = 0;
      for (let j = 0; j < n; j++) sum += mass[k * n + j] * x[j];
      out[3 * i + part] += x[k] * sum;
    }
  }
  return out;
}
