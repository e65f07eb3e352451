import { type CavityModes, type ExteriorOperators, exteriorFrequencies } from "#engine/air";
import type { BodyPlan } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { type Context, done, type Outcome } from "#engine/numerics";
import type { CavityAir, OuterAir } from "#engine/response";
import type { BodyModes } from "#engine/shells";
import type { Stages } from "../stages.ts";
import { exteriorSpec, shopAir } from "../structure/boxAir.ts";
import { cavityAir, cavityOpening, outerAir, outerPatterns } from "./airParts.ts";
import type { BodySettings } from "./bodySettings.ts";
import type { StageCrew } from "./jobs.ts";
import { lanes } from "./lanes.ts";
import { listeners, saddlePlace } from "./listeners.ts";

/** The outer air's equations, factored: they know the outside of the body, not its modes, so that neither waits for the other. */
export function outerOperators(
  build: Build,
  plan: BodyPlan,
  settings: BodySettings,
  crew: StageCrew,
  ctx: Context,
): Promise<Outcome<ExteriorOperators>> {
  const { density, soundSpeed } = shopAir(build);
  const options = {
    frequencies: exteriorFrequencies(settings.exteriorFrequencies, settings.exteriorToHz),
    listeners: listeners(saddlePlace(build, plan)),
    density,
    soundSpeed,
  };
  const input = { spec: exteriorSpec(build, plan), panels: settings.exteriorPanels, options };
  return crew.run("outside", input, ctx, lanes.outside);
}

/** Air inside and outside as the body's modes meet it. */
export async function airAround(
  modes: BodyModes,
  cavity: CavityModes,
  operators: ExteriorOperators,
  crew: StageCrew,
  stages: Stages,
): Promise<Outcome<{ cavity: CavityAir; outside: OuterAir }>> {
  const patterns = outerPatterns(operators.surface, modes, cavity);
  const watching = stages.stage("sound outside", 0.7, 0.9);
  const solving = crew.run("sound", { operators, patterns }, watching, lanes.outside);
  // the walls do not feel the opening's outer end, so that they need not wait for it
  const walls = cavityAir(cavity, modes, stages.stage("air inside and walls", 0.7, 0.9));
  const field = await solving;
  if (!field.ok) return field;
  if (!walls.ok) return walls;
  const outer = outerAir(field.value, cavity);
  const inner = { ...walls.value, aperture: cavityOpening(outer.cavity) };
  return done({ cavity: inner, outside: outer.outside }, [...field.warnings, ...walls.warnings]);
}
