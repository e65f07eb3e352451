import { type KernelSource, lowestDense, symmetricMultiply } from "#engine/numerics";
import type { NominalModes, ReducedParameter } from "./reducedModel.ts";

/** Modes whose corrections are sought, from the lowest. */
const aimedAt = 60;

/**
 * Loads whose static answers correct the nominal modes for a parameter: `count` x n.
 *
 * At a changed place mode i is out of balance by g_i = (dK - w_i^2 dM) phi_i, which acts on the changed elements alone; what
 * the nominal modes lack is about K^-1 g_i. The loads are the leading combinations of all g_i / w_i at the outermost
 * knots, led in the norm of the inverse of dK's diagonal, which stands for the flexibility.
 */
export function correctionLoads(
  parameter: ReducedParameter,
  nominal: NominalModes,
  count: number,
  source: KernelSource,
): Float64Array {
  const knots = outermost(parameter);
  const { motions } = knots[0].change;
  const m = motions.start.length - 1;
  const { rigidCount, values } = nominal;
  const n = nominal.vectors.length / (rigidCount + values.length);
  const modes = Math.min(aimedAt, values.length);
  const size = modes * knots.length;
  const forces = new Float64Array(size * m);
  const scale = new Float64Array(m);
  for (const [q, { change }] of knots.entries()) {
    const { colStart, values: entries } = change.stiffness;
    for (let k = 0; k < m; k++) scale[k] += Math.abs(entries[colStart[k]]);
    for (let i = 0; i < modes; i++) {
      const phi = local(nominal.vectors.subarray((rigidCount + i) * n, (rigidCount + i + 1) * n), motions);
      const f = symmetricMultiply(change.stiffness, phi);
      const inertia = symmetricMultiply(change.mass, phi);
      const weight = 1 / Math.sqrt(values[i]);
      for (let k = 0; k < m; k++) forces[(q * modes + i) * m + k] = weight * (f[k] - values[i] * inertia[k]);
    }
  }
  const largest = scale.reduce((a, b) => Math.max(a, b), 0);
  const inverse = scale.map((s) => 1 / (s + 1e-9 * largest));
  const gram = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < m; k++) sum += inverse[k] * forces[i * m + k] * forces[j * m + k];
      gram[i * size + j] = -sum;
    }
  }
  const one = new Float64Array(size * size);
  for (let i = 0; i < size; i++) one[i * size + i] = 1;
  const led = lowestDense(gram, one, size, count, source);
  if (!led.ok) return new Float64Array(0);
  const loads = new Float64Array(count * n);
  for (let c = 0; c < Math.min(count, size); c++) {
    if (!(led.value.values[c] < 0)) break;
    const f = new Float64Array(m);
    for (let i = 0; i < size; i++) {
      const w = led.value.vectors[c * size + i];
      for (let k = 0; k < m; k++) f[k] += w * forces[i * m + k];
    }
    for (let k = 0; k < m; k++) {
      for (let p = motions.start[k]; p < motions.start[k + 1]; p++)
        loads[c * n + motions.row[p]] += motions.weight[p] * f[k];
    }
  }
  return loads;
}

/** The knots with the least and the greatest factor, all on the motions of the first. */
function outermost({ knots }: ReducedParameter): ReducedParameter["knots"] {
  const sorted = [...knots].sort((a, b) => a.factor - b.factor);
  return sorted.length < 2 ? sorted : [sorted[0], sorted[sorted.length - 1]];
}

/** The motions of a map under a vector of rows. */
function local(
  vector: Float64Array,
  motions: { start: Uint32Array; row: Uint32Array; weight: Float64Array },
): Float64Array {
  const out = new Float64Array(motions.start.length - 1);
  for (let k = 0; k < out.length; k++) {
    for (let p = motions.start[k]; p < motions.start[k + 1]; p++)
      out[k] += motions.weight[p] * vector[motions.row[p]];
  }
  return out;
}
