import type { UncertainValue } from "#engine/instrument";
import { type Context, done, lowestDense, type Outcome } from "#engine/numerics";
import { type Coupling, inCoordinates, type StructureParts } from "#engine/response";
import type { LiveModel } from "../live/liveModel.ts";
import { lossOf } from "../live/liveParameters.ts";
import { movedCoupling } from "../live/movedCoupling.ts";
import { termSlope } from "./termSlope.ts";

/**
 * The coupled body in its own undamped modes up to a frequency, with what each uncertain value does to it per unit of
 * relative change (first order in the value; the modes' answer to it is not linearised).
 */
export interface SmallBody {
  readonly parts: StructureParts;
  readonly coupling: Coupling;
  /** Coordinates without stiffness (motions of the whole body, circling flows), then the modes. */
  readonly still: number;
  readonly size: number;
  /** By uncertain value that the model follows. */
  readonly slopes: readonly Slope[];
  /** Paths that it does not follow. */
  readonly left: readonly string[];
}

export interface Slope {
  readonly value: UncertainValue;
  /** size x size each; null: does not act there. */
  readonly stiffness: Float64Array | null;
  readonly mass: Float64Array | null;
  readonly loss: Float64Array;
}

export function smallBody(
  model: LiveModel,
  uncertain: readonly UncertainValue[],
  toHz: number,
  ctx: Context,
): Outcome<SmallBody> {
  const moved = movedCoupling(model, { point: [], laid: [], hole: 1 });
  if (!moved.ok) return moved;
  const { parts, coupling } = moved.value;
  const { system } = coupling;
  const { n, structureCount: p } = system;
  const eigen = lowestDense(system.stiffness, system.mass, n, n, ctx.kernels);
  if (!eigen.ok) return eigen;
  const { values, vectors } = eigen.value;
  const still = system.rigidCount + Math.max(0, system.apertureCount - 1);
  const limit = (2 * Math.PI * toHz) ** 2;
  let size = still;
  while (size < n && (size < still + 8 || values[size]! < limit)) size++;
  const to = vectors.subarray(0, size * n);
  const structure = new Float64Array(size * p);
  for (let i = 0; i < size; i++) structure.set(to.subarray(i * n, i * n + p), i * p);
  const columns = Uint32Array.from({ length: p }, (_, i) => i);
  const slope = (id: string, which: "stiffness" | "mass" | "loss"): Float64Array | null => {
    const a = termSlope(model.reduced, columns, id, which);
    return a && congruent(structure, a, size, p);
  };
  const slopes: Slope[] = [];
  const left: string[] = [];
  for (const value of uncertain) {
    const stiffnesses = lossOf(value.path);
    if (stiffnesses !== null) {
      // the share of the loss that this factor has: the factor times the energy of its stiffness
      const loss = new Float64Array(size * size);
      let known = false;
      for (const id of stiffnesses) {
        const energy = slope(id, "stiffness");
        if (energy === null) continue;
        known = true;
        for (let k = 0; k < loss.length; k++) loss[k]! += value.value * energy[k]!;
      }
      if (known) slopes.push({ value, stiffness: null, mass: null, loss });
      else left.push(value.path);
      continue;
    }
    const stiffness = slope(value.path, "stiffness");
    const mass = slope(value.path, "mass");
    const loss = slope(value.path, "loss");
    if (stiffness && mass && loss) slopes.push({ value, stiffness, mass, loss });
    else left.push(value.path);
  }
  return done({
    parts,
    coupling: { ...coupling, system: inCoordinates(system, to) },
    still,
    size,
    slopes,
    left,
  });
}

/** T A T', T: size x p. */
function congruent(t: Float64Array, a: Float64Array, size: number, p: number): Float64Array {
  const half = new Float64Array(size * p);
  for (let i = 0; i < size; i++) {
    const row = half.subarray(i * p, (i + 1) * p);
    for (let k = 0; k < p; k++) {
      const f = t[i * p + k]!;
      for (let j = 0; j < p; j++) row[j]! += f * a[k * p + j]!;
    }
  }
  const out = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < p; k++) sum += half[i * p + k]! * t[j * p + k]!;
      out[i * size + j] = out[j * size + i] = sum;
    }
  }
  return out;
}
