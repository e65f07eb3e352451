import { type Context, done, factorize, type Outcome, solveFactored } from "#engine/numerics";
import type { CavityModes, WallFlow } from "./cavityRecords.ts";
import { rowProducts } from "./rowProducts.ts";
import { takeListed } from "./staticField.ts";

/**
 * Mass of the cavity's modes beyond the listed ones, that move with the walls and the opening without storing pressure:
 *   M_ij = rho sum over those modes of S_i S_j/(V lambda) = rho S_i (K^-1 less the listed modes) S_j
 * for the coordinates [motions of `flow`, patterns of the opening], (count + A) squared, symmetric, kg (kg/m and kg/m2 where
 * patterns of flow take part). The patterns' own block is left 0: `CavityAperture.inner` holds it, with the edge's
 * singularity that the elements alone would miss. Fails with the reasons of `factorize`.
 */
export function cavityResidual(cavity: CavityModes, flow: WallFlow, ctx: Context): Outcome<Float64Array> {
  const { field, wall, aperture, air } = cavity;
  const { n, stiffness, mass, shift, analysis } = field;
  const values = stiffness.values.map((k, i) => k + shift * mass.values[i]);
  const factor = factorize({ ...stiffness, values }, { analysis }, ctx);
  if (!factor.ok) return factor;
  const { fieldNode } = wall;
  const size = fieldNode.length;
  const { count } = flow;
  const loads = new Float64Array(count * n);
  for (let m = 0; m < count; m++)
    for (let i = 0; i < size; i++) loads[m * n + fieldNode[i]] = flow.loads[m * size + i];
  const answer = solveFactored(factor.value, loads, count);
  const patterns = aperture?.count ?? 0;
  const all = count + patterns;
  const out = new Float64Array(all * all);
  const onWall = new Float64Array(count * size);
  for (let m = 0; m < count; m++)
    for (let i = 0; i < size; i++) onWall[m * size + i] = answer[m * n + fieldNode[i]];
  const walls = rowProducts(flow.loads, onWall, size);
  takeListed(walls, field, flow.coupling, flow.coupling);
  const opened = rowProducts(answer, aperture?.loads ?? new Float64Array(0), n);
  if (aperture !== null) takeListed(opened, field, flow.coupling, aperture.coupling);
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++)
      out[i * all + j] = (air.density * (walls[i * count + j] + walls[j * count + i])) / 2;
    for (let a = 0; a < patterns; a++)
      out[i * all + count + a] = out[(count + a) * all + i] = air.density * opened[i * patterns + a];
  }
  return done(out);
}
