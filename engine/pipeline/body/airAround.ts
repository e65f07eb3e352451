import { type CavityModes, type ExteriorSurface, exteriorFrequencies, exteriorSurface } from "#engine/air";
import type { BodyPlan } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { type Context, done, type Outcome, type Warning } from "#engine/numerics";
import type { CavityAir, OuterAir } from "#engine/response";
import type { BodyModes } from "#engine/shells";
import type { Stages } from "../stages.ts";
import { exteriorSpec, shopAir } from "../structure/boxAir.ts";
import { cavityAir, cavityOpening, outerAir, outerPatterns } from "./airParts.ts";
import type { BodySettings } from "./bodySettings.ts";
import type { StageCrew } from "./jobs.ts";
import { listeners, saddlePlace } from "./listeners.ts";

/** Air inside and outside as the body's modes meet it. */
export async function airAround(
  build: Build,
  plan: BodyPlan,
  modes: BodyModes,
  cavity: CavityModes,
  settings: BodySettings,
  crew: StageCrew,
  stages: Stages,
): Promise<Outcome<{ cavity: CavityAir; outside: OuterAir; panels: number }>> {
  const surface = exteriorSurface(exteriorSpec(build, plan), settings.exteriorPanels);
  if (!surface.ok) return surface;
  const patterns = outerPatterns(surface.value, modes, cavity);
  const solving = outerField(
    build,
    plan,
    surface.value,
    patterns,
    settings,
    crew,
    stages.stage("air outside", 0.7, 0.9),
  );
  // the walls do not feel the opening's outer end, so that they need not wait for it
  const walls = cavityAir(cavity, modes, stages.stage("air inside and walls", 0.7, 0.9));
  const fields = await solving;
  if (!fields.ok) return fields;
  if (!walls.ok) return walls;
  const outer = outerAir(fields.value, cavity);
  const inner = { ...walls.value, aperture: cavityOpening(outer.cavity) };
  const panels = surface.value.triangles.length / 3;
  return done({ cavity: inner, outside: outer.outside, panels }, [
    ...surface.warnings,
    ...fields.warnings,
    ...walls.warnings,
  ]);
}

/** The outer air, its frequencies shared out among the hands. */
async function outerField(
  build: Build,
  plan: BodyPlan,
  surface: ExteriorSurface,
  patterns: Float64Array,
  settings: BodySettings,
  crew: StageCrew,
  ctx: Context,
) {
  const { density, soundSpeed } = shopAir(build);
  const all = exteriorFrequencies(settings.exteriorFrequencies, settings.exteriorToHz);
  const places = listeners(saddlePlace(build, plan));
  const hands = Math.min(crew.hands, all.length);
  const fields = await Promise.all(
    Array.from({ length: hands }, (_, hand) =>
      crew.run(
        "exterior",
        {
          surface,
          patterns,
          options: {
            frequencies: all.filter((_, i) => i % hands === hand),
            listeners: places,
            density,
            soundSpeed,
          },
        },
        ctx,
      ),
    ),
  );
  const values = [];
  const warnings: Warning[] = [];
  for (const field of fields) {
    if (!field.ok) return field;
    values.push(field.value);
    warnings.push(...field.warnings);
  }
  return done(values, warnings);
}
