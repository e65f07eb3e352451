import { done, failed, type KernelSource, lowestDense, type Outcome, symmetricEigen } from "#engine/numerics";
import type { CoupledStructure } from "./coupledStructure.ts";
import type { UndampedModes } from "./modalLosses.ts";
import { timesTransposed } from "./timesTransposed.ts";

export interface UndampedStructure {
  readonly modes: UndampedModes;
  /** rigidCount x n, mass-normalised. */
  readonly rigid: Float64Array;
}

/** What stores nothing but rounding: omega^2 below this share of the first elastic mode's. */
const NOTHING = 1e-4;

/**
 * K x = omega^2 M x of the coupled body, with the air's frequency-dependent terms at their reference. Without stiffness are the
 * rigid motions of the whole body, and A - 1 flows that circle through the opening without a net flow: these move
 * nothing of the structure and are left out. Fails with 'not-positive-definite' if the mass is not, 'rigid-motion-held' if a
 * motion of the whole body meets a stiffness (cavity and structure do not fit each other), 'not-stable' if a mode has no stiffness.
 */
export function undampedStructure(c: CoupledStructure, kernels?: KernelSource): Outcome<UndampedStructure> {
  const { n, rigidCount: r, structureCount: p } = c;
  const eigen = lowestDense(c.stiffness, c.mass, n, n, kernels);
  if (!eigen.ok) return failed(eigen.reason, `mass of the coupled body: ${eigen.detail}`);
  const { values, vectors } = eigen.value;
  const still = r + Math.max(0, c.apertureCount - 1);
  if (!(values[still] > 0))
    return failed("not-stable", `the lowest mode of the body has omega^2 = ${values[still]}`);
  for (let i = 0; i < still; i++) {
    if (Math.abs(values[i]) > NOTHING * values[still])
      return failed(
        "rigid-motion-held",
        `a rigid motion of the whole body has omega^2 = ${values[i]} beside ${values[still]} of the first mode`,
      );
  }
  // Of what has no stiffness, the combinations with the most motion of the structure.
  const free = vectors.subarray(0, still * n);
  const moved = timesTransposed(free, c.rows.structure, still, p, n);
  const turned = symmetricEigen(timesTransposed(moved, moved, still, still, p), still);
  const rigid = new Float64Array(r * n);
  for (let i = 0; i < r; i++) {
    const mix = turned.vectors.subarray((still - r + i) * still, (still - r + i + 1) * still);
    for (let k = 0; k < still; k++) for (let j = 0; j < n; j++) rigid[i * n + j] += mix[k] * free[k * n + j];
  }
  return done({
    modes: { count: n - still, square: values.slice(still), vectors: vectors.slice(still * n) },
    rigid,
  });
}
