import type { Build } from "#engine/instrument";
import { type Context, done, type Outcome } from "#engine/numerics";
import type { BodyShellSpec } from "#engine/shells";
import type { BodySettings } from "../body/bodySettings.ts";
import type { MadeBody } from "../body/coupledBody.ts";
import type { StageCrew } from "../body/jobs.ts";
import { madeBody } from "../body/wholeBody.ts";
import type { LoadFigures, LoadTask } from "./bodyLoad.ts";
import { mirroredShell } from "./mirroredShell.ts";

/** Another body under the same strings; `made` where its plates are at hand (only rods, blocks or neck differ). */
export interface LoadVariant {
  readonly name: string;
  readonly spec: BodyShellSpec;
  readonly made?: Pick<MadeBody, "mesh" | "plates">;
}

export interface VariantFigures extends LoadFigures {
  readonly name: string;
}

/** The body without its rods, and turned over so that its cutaway lies on the other side: as far as it has them. */
export function usualVariants(build: Build, made: MadeBody): LoadVariant[] {
  const { spec } = made;
  const bridgePatches = build.bridge.patches.length + (build.bridgePlate === null ? 0 : 1);
  const name = "cutaway on the other side";
  return [
    ...(spec.rods.length === 0 ? [] : [{ name: "without its rods", spec: { ...spec, rods: [] }, made }]),
    ...(build.body.cutaway === null ? [] : [{ name, spec: mirroredShell(spec, (k) => k < bridgePatches) }]),
  ];
}

/**
 * Table of what other bodies (other braces, no rods, another outline) do under the same strings: one row a spec, in their
 * order. Fails as `madeBody` and `bodyLoad` do, naming the variant.
 */
export async function loadVariants(
  variants: readonly LoadVariant[],
  task: LoadTask,
  settings: BodySettings,
  crew: StageCrew,
  ctx: Context,
): Promise<Outcome<readonly VariantFigures[]>> {
  const found = await Promise.all(
    variants.map(async ({ name, spec, made }): Promise<Outcome<VariantFigures>> => {
      const body = made === undefined ? await madeBody(spec, settings, crew, ctx) : done({ ...made, spec });
      if (!body.ok) return { ...body, detail: `${name}: ${body.detail}` };
      const { mesh, plates } = body.value;
      const figures = await crew.run("figures", { spec, mesh, plates, ...task }, ctx);
      return figures.ok
        ? done({ name, ...figures.value })
        : { ...figures, detail: `${name}: ${figures.detail}` };
    }),
  );
  const rows: VariantFigures[] = [];
  for (const one of found) {
    if (!one.ok) return one;
    rows.push(one.value);
  }
  return done(rows);
}
