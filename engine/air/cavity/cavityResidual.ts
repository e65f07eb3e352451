import { type Context, done, factorize, type Outcome, solveFactored } from "#engine/numerics";
import type { CavityModes, WallFlow } from "./cavityRecords.ts";
import { staticField } from "./staticField.ts";

/**
 * Mass of the cavity's modes beyond the listed ones, that move with the walls and the opening without storing pressure:
 *   M_ij = rho sum over those modes of S_i S_j/(V lambda) = rho S_i (K^-1 less the listed modes) S_j
 * for the coordinates [motions of `flow`, patterns of the opening], (count + A) squared, symmetric, kg (kg/m and kg/m2 where
 * patterns of flow take part). The patterns' own block is left 0: `CavityAperture.inner` holds it, with the edge's
 * singularity that the elements alone would miss. Fails with the reasons of `factorize`.
 */
export function cavityResidual(cavity: CavityModes, flow: WallFlow, ctx: Context): Outcome<Float64Array> {
  const { field, wall, aperture, air } = cavity;
  const { n, stiffness, mass, shift, group } = field;
  const values = stiffness.values.map((k, i) => k + shift * mass.values[i]);
  const factor = factorize({ ...stiffness, values }, { group }, ctx);
  if (!factor.ok) return factor;
  const still = staticField(field, (loads, columns) => solveFactored(factor.value, loads, columns));
  const { fieldNode } = wall;
  const size = fieldNode.length;
  const { count } = flow;
  const loads = new Float64Array(count * n);
  for (let m = 0; m < count; m++)
    for (let i = 0; i < size; i++) loads[m * n + fieldNode[i]] = flow.loads[m * size + i];
  const answer = still.residual(loads, count);
  const patterns = aperture?.count ?? 0;
  const all = count + patterns;
  const out = new Float64Array(all * all);
  const onWall = new Float64Array(count * size);
  for (let m = 0; m < count; m++)
    for (let i = 0; i < size; i++) onWall[m * size + i] = answer[m * n + fieldNode[i]];
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let p = 0; p < size; p++) sum += flow.loads[i * size + p] * onWall[j * size + p];
      out[i * all + j] = out[j * all + i] = air.density * sum;
    }
    for (let a = 0; a < patterns; a++) {
      let sum = 0;
      for (let p = 0; p < n; p++) sum += (aperture?.loads[a * n + p] ?? 0) * answer[i * n + p];
      out[i * all + count + a] = out[(count + a) * all + i] = air.density * sum;
    }
  }
  return done(out);
}
