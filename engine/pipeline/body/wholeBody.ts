import type { Build } from "#engine/instrument";
import { type Context, done, failed, invariant, type Outcome } from "#engine/numerics";
import { coupleStructure, type StructureParts } from "#engine/response";
import { type BodyShellSpec, joinMeshes } from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import type { Stages } from "../stages.ts";
import type { SetString } from "../stringSet.ts";
import { bodyShell, stringEnds } from "../structure/bodyShell.ts";
import { cavitySpec, shopAir } from "../structure/boxAir.ts";
import { type BuildState, reached } from "../structure/buildState.ts";
import { neckLine } from "../structure/neckLine.ts";
import { airAround, outerOperators } from "./airAround.ts";
import type { BodySettings } from "./bodySettings.ts";
import type { CoupledBody, MadeBody, WholeBody } from "./coupledBody.ts";
import type { StageCrew } from "./jobs.ts";
import { lanes } from "./lanes.ts";
import { onTop } from "./listeners.ts";
import { modesByTwo } from "./modesByTwo.ts";
import { loadInput } from "./stringLoad.ts";
import { topMean } from "./topMean.ts";

/**
 * From the build to the whole strung body with its air. Two hands share the plates; one joins the body under its string load
 * while the other solves the air (`lanes`); then they share its modes. The result does not depend on the crew.
 */
export async function wholeBody(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  settings: BodySettings,
  crew: StageCrew,
  stages: Stages,
): Promise<Outcome<WholeBody>> {
  const body = await bodyInState(build, geometry, strings, "strung", settings, crew, stages);
  if (!body.ok) return body;
  const { load } = body.value;
  invariant(load !== null, () => "the strung body came without its load");
  return done({ ...body.value, load }, body.warnings);
}

/**
 * The body as far as it is built, held by nothing. Up to the closed box it has no air of its own: its modes are those in
 * vacuo. From the closed box on, air inside and outside, strings only when strung. "Crowns" are where the bridge will stand.
 */
export async function bodyInState(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  state: BuildState,
  settings: BodySettings,
  crew: StageCrew,
  stages: Stages,
): Promise<Outcome<CoupledBody>> {
  const { plan } = geometry;
  const { toFrequency } = settings;
  const ends = stringEnds(build, geometry);
  const strung = reached(state, "strung");
  const points = [
    ...ends.map(({ crown }) => ({ ...crown, height: 0 })),
    ...(strung ? ends.map(({ nut }) => nut) : []),
  ];
  const box = reached(state, "closed box");
  const inside = cavitySpec(build, plan, settings.cavity);
  const madeAndModes = async () => {
    const spec = bodyShell(build, geometry, strings, state);
    const made = await madeBody(spec, settings, crew, stages.stage("meshes and matrices", 0, 0.3));
    if (!made.ok) return made;
    const load = strung ? loadInput(build, geometry, strings) : null;
    const found = await modesByTwo({ ...made.value, points, load }, toFrequency, crew, stages);
    return found.ok
      ? done({ ...found.value, made: made.value }, [...made.warnings, ...found.warnings])
      : found;
  };
  const airy = box && inside.ok;
  const [found, cavity, operators] = await Promise.all([
    madeAndModes(),
    airy ? crew.run("cavity", inside.value, stages.stage("air inside", 0, 0.1), lanes.air) : null,
    airy ? outerOperators(build, plan, settings, crew, stages.stage("air outside", 0.1, 0.2)) : null,
  ]);
  if (!found.ok) return found;
  const { made, modes, load } = found.value;
  if (!inside.ok) return inside;
  if (cavity !== null && !cavity.ok) return cavity;
  if (operators !== null && !operators.ok) return operators;
  const exteriorPanels = (operators?.value.surface.triangles.length ?? 0) / 3;
  const air =
    cavity === null || operators === null
      ? done(null)
      : await airAround(modes, cavity.value, operators.value, crew, stages);
  if (!air.ok) return air;
  const lines = stringLines(build, geometry);
  const parts: StructureParts = {
    body: modes,
    matrices: null,
    crowns: build.strings.map(({ string, crown: [x, y, height] }) => ({ string, x, y, height })),
    strings: strung
      ? strings.map((s, i) => ({
          stiffness: s.design.axialStiffness / s.scaleLength,
          direction: lines[i]!,
        }))
      : null,
    neck: strung ? neckLine(build, geometry, modes) : null,
    cavity: air.value?.cavity ?? null,
    outside: air.value?.outside ?? null,
    air: shopAir(build),
    topRim: reached(state, "top on the rim")
      ? { outline: plan.outlinePolygon, width: build.sides.thickness + build.sides.topLining.width }
      : null,
    topMean: topMean(build, plan),
    basisToHz: toFrequency,
  };
  const response = coupleStructure(parts, stages.stage("air and body", 0.9, 0.92));
  if (!response.ok) return response;
  return done(
    {
      state,
      response: response.value,
      parts,
      modes,
      load,
      made,
      counts: {
        shellNodes: modes.surface.nodes.length / 3,
        structureModes: modes.count,
        cavityModes: cavity?.value.count ?? 0,
        exteriorPanels,
        exteriorFrequencies: air.value === null ? 0 : settings.exteriorFrequencies,
      },
    },
    [found, cavity, operators, air, response].flatMap((o) => o?.warnings ?? []),
  );
}

/** Both plates meshed and assembled by the crew, and joined along the sides. */
export async function madeBody(
  spec: BodyShellSpec,
  { meshSize }: BodySettings,
  crew: StageCrew,
  ctx: Context,
): Promise<Outcome<MadeBody>> {
  const [top, back] = await Promise.all([
    crew.run("plate", { spec, which: "top", size: meshSize.top }, ctx, lanes.top),
    crew.run("plate", { spec, which: "back", size: meshSize.back }, ctx, lanes.back),
  ]);
  if (!top.ok) return failed(top.reason, `the top: ${top.detail}`);
  if (!back.ok) return failed(back.reason, `the back: ${back.detail}`);
  const mesh = joinMeshes(spec, top.value?.seated ?? null, back.value?.seated ?? null, meshSize.side);
  if (!mesh.ok) return mesh;
  const plates = [top.value, back.value].flatMap((plate) => (plate === null ? [] : [plate.piece]));
  return done({ spec, mesh: mesh.value, plates }, [...top.warnings, ...back.warnings, ...mesh.warnings]);
}

/** Unit vector from each string's crown to its nut. */
function stringLines(build: Build, geometry: InstrumentGeometry): (readonly [number, number, number])[] {
  return stringEnds(build, geometry).map(({ crown, nut }) => {
    const [x, y, z] = onTop(build, geometry.plan, crown.x, crown.y);
    const d = [nut.at[0] - x, nut.at[1] - y, nut.at[2] - z - crown.height] as const;
    const length = Math.hypot(...d);
    return [d[0] / length, d[1] / length, d[2] / length];
  });
}
