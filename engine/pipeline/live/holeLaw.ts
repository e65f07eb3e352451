import { type CavitySpec, cavityModes } from "#engine/air";
import { type Polygon, polygonCentroid } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { type Context, done, type Outcome } from "#engine/numerics";
import type { BodySettings } from "../body/bodySettings.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import { cavitySpec } from "../structure/boxAir.ts";
import type { HoleLaw } from "./liveModel.ts";
import { holeParameter } from "./liveParameters.ts";

/**
 * How the opening's inertance and friction change with its size, from the inner field, wall and flat outer end of three
 * holes of one shape about one middle. Plates keep their shape round the hole, and the patterns of flow keep theirs: a few
 * percent of the opening's part in the main air for a change by a fifth.
 */
export function holeLaw(
  build: Build,
  { plan }: InstrumentGeometry,
  settings: BodySettings,
  ctx: Context,
): Outcome<HoleLaw> {
  const spec = cavitySpec(build, plan, settings.cavity);
  if (!spec.ok) return spec;
  const { hole } = spec.value;
  const factors = Float64Array.of(holeParameter.low, 1, holeParameter.high);
  const inertance = new Float64Array(3);
  const viscous = new Float64Array(3);
  for (const [k, factor] of factors.entries()) {
    const made = cavityModes({ ...spec.value, hole: hole && sized(hole, factor) }, ctx);
    if (!made.ok) return made;
    inertance[k] = made.value.aperture?.inertance[0] ?? 0;
    viscous[k] = made.value.aperture?.viscous[0] ?? 0;
  }
  return done({
    factors,
    inertance: inertance.map((v) => v / inertance[1]!),
    viscous: viscous.map((v) => v / viscous[1]!),
  });
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
