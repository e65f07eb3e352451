import { type KernelSource, lowestDense } from "#engine/numerics";
import type { RigidWallAir } from "./bodyResponse.ts";
import type { StructureParts } from "./structureParts.ts";

/** The lowest resonance of opening and cavity with every wall rigid, standing waves included; null without a hole. */
export function rigidWallAir(parts: StructureParts, kernels?: KernelSource): RigidWallAir | null {
  const { cavity } = parts;
  if (!cavity?.aperture) return null;
  const { aperture, count, volume, omega, air } = cavity;
  const a = aperture.count;
  const n = a + count - 1;
  const stiffness = new Float64Array(n * n);
  const lowest = (inertance: Float64Array) => {
    const mass = new Float64Array(n * n);
    for (let i = 0; i < a; i++) for (let j = 0; j < a; j++) mass[i * n + j] = inertance[i * a + j];
    for (let k = 1; k < count; k++)
      mass[(a + k - 1) * (n + 1)] = (air.density * air.soundSpeed ** 2) / volume[k] / omega[k] ** 2;
    const eigen = lowestDense(stiffness, mass, n, a, kernels);
    return eigen.ok ? Math.sqrt(Math.max(0, eigen.value.values[a - 1])) / (2 * Math.PI) : 0;
  };
  const row = new Float64Array(n);
  for (let k = 0; k < count; k++) {
    row.fill(0);
    for (let i = 0; i < a; i++) row[i] = -aperture.coupling[i * count + k];
    if (k > 0) row[a + k - 1] = 1;
    const kappa = (air.density * air.soundSpeed ** 2) / volume[k];
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) stiffness[i * n + j] += kappa * row[i] * row[j];
  }
  return {
    frequency: lowest(aperture.inertance),
    low: lowest(aperture.range.high),
    high: lowest(aperture.range.low),
  };
}
