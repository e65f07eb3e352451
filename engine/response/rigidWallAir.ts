import { done, failed, type KernelSource, lowestDense, type Outcome } from "#engine/numerics";
import type { RigidWallAir } from "./bodyResponse.ts";
import type { StructureParts } from "./structureParts.ts";

/**
 * The lowest resonance of opening and cavity with every wall rigid, standing waves included; null without a hole. Fails with
 * 'not-positive-definite' where an inertance of the opening, or of its range, is not.
 */
export function rigidWallAir(parts: StructureParts, kernels?: KernelSource): Outcome<RigidWallAir | null> {
  const { cavity } = parts;
  if (!cavity?.aperture) return done(null);
  const { aperture, count, volume, omega, air } = cavity;
  const a = aperture.count;
  const n = a + count - 1;
  const stiffness = new Float64Array(n * n);
  const lowest = (inertance: Float64Array) => {
    const mass = new Float64Array(n * n);
    for (let i = 0; i < a; i++) for (let j = 0; j < a; j++) mass[i * n + j] = inertance[i * a + j];
    for (let k = 1; k < count; k++)
      mass[(a + k - 1) * (n + 1)] = (air.density * air.soundSpeed ** 2) / volume[k] / omega[k] ** 2;
    // The a - 1 flows that circle through the opening meet no stiffness.
    const eigen = lowestDense(stiffness, mass, n, a, kernels);
    return eigen.ok ? done(Math.sqrt(eigen.value.values[a - 1]) / (2 * Math.PI)) : eigen;
  };
  const row = new Float64Array(n);
  for (let k = 0; k < count; k++) {
    row.fill(0);
    for (let i = 0; i < a; i++) row[i] = -aperture.coupling[i * count + k];
    if (k > 0) row[a + k - 1] = 1;
    const kappa = (air.density * air.soundSpeed ** 2) / volume[k];
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) stiffness[i * n + j] += kappa * row[i] * row[j];
  }
  const [frequency, low, high] = [aperture.inertance, aperture.range.high, aperture.range.low].map(lowest);
  if (!frequency.ok) return failed(frequency.reason, `the opening: ${frequency.detail}`);
  if (!low.ok) return failed(low.reason, `the opening with its greatest end: ${low.detail}`);
  if (!high.ok) return failed(high.reason, `the opening with its least end: ${high.detail}`);
  return done({ frequency: frequency.value, low: low.value, high: high.value });
}
