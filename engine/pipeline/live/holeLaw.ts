import { type CavityModes, type CavitySpec, cavityModes } from "#engine/air";
import { type Polygon, polygonCentroid } from "#engine/geometry";
import { type Context, done, type Outcome } from "#engine/numerics";
import type { HoleLaw } from "./liveModel.ts";
import { holeParameter } from "./liveParameters.ts";

/**
 * How the opening's inertance and friction change with its size, from three holes of one shape about one middle (`nominal`: the one
 * there is). What the real body makes of a flat outer end is that of the nominal hole: it comes from the edge of the plate and
 * beyond, far from the hole. The plates keep their shape round the hole.
 */
export function holeLaw(spec: CavitySpec, nominal: CavityModes, ctx: Context): Outcome<HoleLaw> {
  const factors = Float64Array.of(holeParameter.low, 1, holeParameter.high);
  const inertance = new Float64Array(3);
  const viscous = new Float64Array(3);
  for (const [k, factor] of factors.entries()) {
    const { hole } = spec;
    const made =
      factor === 1 ? done(nominal) : cavityModes({ ...spec, hole: hole && sized(hole, factor) }, ctx);
    if (!made.ok) return made;
    inertance[k] = evenInertance(made.value);
    viscous[k] = made.value.aperture?.viscous[0] ?? 0;
  }
  return done({ factors, inertance, viscous: viscous.map((v) => v / viscous[1]!) });
}

/**
 * kg/m4: of the flow that an even pressure drives, far below the cavity's modes. These take part: mode n gives rho c^2/(V_n w_n^2)
 * times the square of its coupling, which changes with the hole as much as the rest does.
 */
function evenInertance({ aperture, count, omega, volume, air }: CavityModes): number {
  if (aperture === null) return 0;
  let sum = aperture.inertance[0]!;
  for (let n = 1; n < count; n++)
    sum += (air.density * (air.soundSpeed * aperture.coupling[n]!) ** 2) / (volume[n]! * omega[n]! ** 2);
  return sum;
}

type HoleOpening = NonNullable<CavitySpec["hole"]>;

/** The same hole, longer and broader by a factor about its middle; its wall goes with it. */
function sized(hole: HoleOpening, factor: number): HoleOpening {
  const [cx, cy] = polygonCentroid(hole.polygon);
  const grown = (p: Polygon): Polygon =>
    p.map((v, i) => (i % 2 === 0 ? cx + factor * (v - cx) : cy + factor * (v - cy)));
  const { wall } = hole;
  return {
    ...hole,
    polygon: grown(hole.polygon),
    wall: typeof wall === "number" ? wall : { ...wall, points: grown(wall.points) },
  };
}
