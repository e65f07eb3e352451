import {
  analysePattern,
  type Context,
  done,
  failed,
  type Outcome,
  symmetricMultiply,
} from "#engine/numerics";
import { cavityAperture } from "./cavityAperture.ts";
import { cavityMatrices } from "./cavityMatrices.ts";
import { cavityMesh } from "./cavityMesh.ts";
import type { CavityModes } from "./cavityRecords.ts";
import type { CavitySpec } from "./cavitySpec.ts";
import { closedModes } from "./closedModes.ts";
import { wallLosses } from "./wallLosses.ts";

/**
 * The air in the box: modes with the hole shut, and the opening as a few patterns of flow.
 *
 * Solids in the box (braces, linings, blocks) are taken as spread evenly: integral of psi_n2 over the volume, and with it
 * compliance and mass of every listed mode, is that of the net volume; the frequencies stay, and so does the near field of
 * the opening. Exact for the even pressure; a solid at a standing wave's flow maximum would lower it, at its pressure
 * maximum raise it, by up to its share of the volume.
 *
 * Range: modes to about a sixth of the wavelength per element side: with size 45 mm 0.1 % at 1 kHz, 0.7 % at 2.5 kHz.
 * Fails with 'cavity-values', 'cavity-without-depth', 'cavity-filled', 'hole-outside', 'cavity-folded',
 * 'cancelled', and with the reasons of `meshPlan` and `modesBelow`.
 */
export function cavityModes(spec: CavitySpec, ctx: Context): Outcome<CavityModes> {
  const { air, layers, size, solidVolume, toFrequency } = spec;
  if (!(Number.isInteger(layers) && layers >= 1 && size > 0 && toFrequency > 0 && solidVolume >= 0)) {
    return failed(
      "cavity-values",
      `${layers} layers, size ${size} m, modes to ${toFrequency} Hz, solids of ${solidVolume} m3`,
    );
  }
  const meshed = cavityMesh(spec);
  if (!meshed.ok) return meshed;
  const mesh = meshed.value;
  const made = cavityMatrices(mesh);
  if (!made.ok) return made;
  const { stiffness, mass, group } = made.value;
  const analysis = analysePattern(stiffness, group);
  const { n } = mass;
  const grossVolume = symmetricMultiply(mass, new Float64Array(n).fill(1)).reduce((sum, v) => sum + v, 0);
  const netVolume = grossVolume - solidVolume;
  if (!(netVolume > 0))
    return failed(
      "cavity-filled",
      `braces and blocks of ${solidVolume} m3 fill the cavity of ${grossVolume.toPrecision(4)} m3`,
    );
  ctx.progress(0.1);
  if (ctx.cancelled()) return failed("cancelled", "before the cavity's modes");
  const losses = wallLosses(mesh, air);
  const limit = ((2 * Math.PI * toFrequency) / air.soundSpeed) ** 2;
  const closed = closedModes({ stiffness, mass, analysis }, grossVolume, limit, {
    ...ctx,
    progress: (f) => ctx.progress(0.1 + 0.6 * f),
  });
  if (!closed.ok) return closed;
  const { count, lambda, modes, shift, solve } = closed.value;
  const field = { n, volume: grossVolume, stiffness, mass, analysis, shift, modes, lambda };
  if (ctx.cancelled()) return failed("cancelled", "before the opening's flow");
  const aperture = cavityAperture(spec, mesh, { field, solve });
  if (!aperture.ok) return aperture;
  const { wall } = mesh;
  const { fieldNode } = wall;
  const pressure = new Float64Array(count * fieldNode.length);
  for (let m = 0; m < count; m++)
    for (let i = 0; i < fieldNode.length; i++)
      pressure[m * fieldNode.length + i] = modes[m * n + fieldNode[i]];
  ctx.progress(1);
  return done(
    {
      count,
      omega: lambda.map((v) => air.soundSpeed * Math.sqrt(v)),
      volume: new Float64Array(count).fill(netVolume),
      ...losses.of(pressure, lambda, netVolume, spec.wallArea),
      leak: spec.leak,
      grossVolume,
      netVolume,
      wall,
      pressure,
      aperture: aperture.value,
      field,
      air,
    },
    meshed.warnings,
  );
}
