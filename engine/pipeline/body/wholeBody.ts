import { type ExteriorSurface, exteriorFrequencies, exteriorSurface } from "#engine/air";
import type { BodyPlan } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { type Context, done, failed, type Outcome, type Warning } from "#engine/numerics";
import { type BodyResponse, coupleStructure, type StructureParts } from "#engine/response";
import {
  type BodyMesh,
  type BodyModes,
  type BodyPiece,
  type BodyShellSpec,
  joinMeshes,
} from "#engine/shells";
import type { Crew } from "../crew.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import type { Stages } from "../stages.ts";
import type { SetString } from "../stringSet.ts";
import { bodyShell, stringEnds } from "../structure/bodyShell.ts";
import { cavitySpec, exteriorSpec, shopAir } from "../structure/boxAir.ts";
import { cavityAir, outerAir, outerPatterns } from "./airParts.ts";
import type { BodySettings } from "./bodySettings.ts";
import type { stageJobs } from "./jobs.ts";
import { listeners, onTop, saddlePlace } from "./listeners.ts";
import { loadInput, type StringLoad } from "./stringLoad.ts";
import { topMean } from "./topMean.ts";

export type StageCrew = Crew<typeof stageJobs>;

/** The body as strings and ear meet it, with what it was coupled from. */
export interface WholeBody {
  readonly response: BodyResponse;
  readonly parts: StructureParts;
  readonly modes: BodyModes;
  readonly load: StringLoad;
  /** What the body was made of: joined again by whoever needs the matrices. */
  readonly made: {
    readonly spec: BodyShellSpec;
    readonly mesh: BodyMesh;
    readonly plates: readonly BodyPiece[];
  };
  readonly counts: {
    readonly shellNodes: number;
    /** Modes of the structure, of the air inside, and of both together. */
    readonly structureModes: number;
    readonly cavityModes: number;
    readonly exteriorPanels: number;
    readonly exteriorFrequencies: number;
  };
}

/**
 * From the build to the whole strung body with its air. Two hands share the plates, then one finds the structure's modes
 * while the other takes cavity and string load, then both solve the outer air. The result does not depend on the crew.
 */
export async function wholeBody(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  settings: BodySettings,
  crew: StageCrew,
  stages: Stages,
): Promise<Outcome<WholeBody>> {
  const { plan } = geometry;
  const spec = strungShell(build, geometry, strings);
  const made = await madeBody(spec, settings, crew, stages.stage("meshes and matrices", 0, 0.3));
  if (!made.ok) return made;
  const ends = stringEnds(build, geometry);
  const points = [...ends.map(({ crown }) => ({ ...crown, height: 0 })), ...ends.map(({ nut }) => nut)];
  const inside = cavitySpec(build, plan, settings.cavity);
  if (!inside.ok) return inside;
  const surface = exteriorSurface(exteriorSpec(build, plan), settings.exteriorPanels);
  if (!surface.ok) return surface;
  const { toFrequency } = settings;
  const lines = stringLines(build, geometry);
  const [modes, cavity, load] = await Promise.all([
    crew.run("modes", { ...made.value, points, toFrequency }, stages.stage("modes of the body", 0.3, 0.7)),
    crew.run("cavity", inside.value, stages.stage("air inside", 0.3, 0.4)),
    crew.run(
      "load",
      { ...made.value, load: loadInput(build, geometry, strings) },
      stages.stage("string load", 0.4, 0.5),
    ),
  ]);
  if (!modes.ok) return modes;
  if (!cavity.ok) return cavity;
  if (!load.ok) return load;
  const outside = await outerField(
    build,
    plan,
    surface.value,
    outerPatterns(surface.value, modes.value, cavity.value),
    settings,
    crew,
    stages.stage("air outside", 0.7, 0.9),
  );
  if (!outside.ok) return outside;
  const coupling = stages.stage("air and body", 0.9, 0.92);
  const air = cavityAir(cavity.value, modes.value, coupling);
  if (!air.ok) return air;
  const parts: StructureParts = {
    body: modes.value,
    matrices: null,
    crowns: build.strings.map(({ string, crown: [x, y, height] }) => ({ string, x, y, height })),
    strings: strings.map((s, i) => ({
      stiffness: s.design.axialStiffness / s.scaleLength,
      direction: lines[i]!,
    })),
    cavity: air.value,
    outside: outerAir(outside.value),
    air: shopAir(build),
    topRim: { outline: plan.outlinePolygon, width: build.sides.thickness + build.sides.topLining.width },
    topMean: topMean(build, plan),
    basisToHz: toFrequency,
  };
  const response = coupleStructure(parts, coupling);
  if (!response.ok) return response;
  const warnings: Warning[] = [made, modes, cavity, load, outside, air, response].flatMap((o) => o.warnings);
  return done(
    {
      response: response.value,
      parts,
      modes: modes.value,
      load: load.value,
      made: made.value,
      counts: {
        shellNodes: modes.value.surface.nodes.length / 3,
        structureModes: modes.value.count,
        cavityModes: cavity.value.count,
        exteriorPanels: surface.value.triangles.length / 3,
        exteriorFrequencies: settings.exteriorFrequencies,
      },
    },
    warnings,
  );
}

/** The finished instrument's structure. */
export function strungShell(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
): BodyShellSpec {
  return bodyShell(build, geometry, strings, "strung");
}

/** Both plates meshed and assembled by the crew, and joined along the sides. */
export async function madeBody(
  spec: BodyShellSpec,
  { meshSize }: BodySettings,
  crew: StageCrew,
  ctx: Context,
): Promise<Outcome<WholeBody["made"]>> {
  const [top, back] = await Promise.all([
    crew.run("plate", { spec, which: "top", size: meshSize.top }, ctx),
    crew.run("plate", { spec, which: "back", size: meshSize.back }, ctx),
  ]);
  if (!top.ok) return failed(top.reason, `the top: ${top.detail}`);
  if (!back.ok) return failed(back.reason, `the back: ${back.detail}`);
  const mesh = joinMeshes(spec, top.value?.seated ?? null, back.value?.seated ?? null, meshSize.side);
  if (!mesh.ok) return mesh;
  const plates = [top.value, back.value].flatMap((plate) => (plate === null ? [] : [plate.piece]));
  return done({ spec, mesh: mesh.value, plates }, [...top.warnings, ...back.warnings, ...mesh.warnings]);
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

/** Unit vector from each string's crown to its nut. */
function stringLines(build: Build, geometry: InstrumentGeometry): (readonly [number, number, number])[] {
  return stringEnds(build, geometry).map(({ crown, nut }) => {
    const [x, y, z] = onTop(build, geometry.plan, crown.x, crown.y);
    const d = [nut.at[0] - x, nut.at[1] - y, nut.at[2] - z - crown.height] as const;
    const length = Math.hypot(...d);
    return [d[0] / length, d[1] / length, d[2] / length];
  });
}
