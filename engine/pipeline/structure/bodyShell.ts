import { type BodyPlan, domeHeight } from "#engine/geometry";
import type { Build, BuildLining, RimPart } from "#engine/instrument";
import type {
  BlockSpec,
  BodyShellSpec,
  LiningSpec,
  Panel,
  PointMassSpec,
  PointRef,
  SidesSpec,
} from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import { filmOf, type PatchRole, platePanels } from "../platePanels.ts";
import type { SetString } from "../stringSet.ts";
import { type BuildState, reached } from "./buildState.ts";
import { boardLine, headCentre, neckBeam } from "./neckBeam.ts";
import { edgeHeight, rimHeights } from "./rimHeights.ts";

/**
 * Share of a kerfed lining's stiffness along the edge that its kerfs leave: the uncut web, about a sixth of the width
 * (common practice, no source).
 */
const kerfedShare = 1 / 6;

/** The structure of the instrument in one build state, in the shells' terms. */
export function bodyShell(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  state: BuildState,
): BodyShellSpec {
  const { plan, board } = geometry;
  const has = (from: BuildState): boolean => reached(state, from);
  const panels = platePanels(build, plan, board);
  const asBuilt = (panel: Panel, roles: readonly PatchRole[]): Panel => ({
    ...panel,
    film: has("finished") ? panel.film : null,
    ribs: has("braced top") ? panel.ribs : [],
    patches: panel.patches.filter((_, i) => partOf(roles[i]!, has)),
  });
  const parts = build.rimParts;
  return {
    top: asBuilt(panels.top, panels.topPatches),
    back: has("closed box") ? asBuilt(panels.back, panels.backPatches) : null,
    heights: rimHeights(build, plan),
    sides: has("top on the rim") ? sides(build, plan, has("finished")) : null,
    blocks: has("top on the rim")
      ? parts.filter((part) => part.kind === "block").map((part) => block(build, plan, part))
      : [],
    neck: has("necked") ? neckBeam(build, geometry) : null,
    rods: has("closed box") ? build.rods.map((rod, i) => ({ name: `rod ${i + 1}`, ...rod })) : [],
    masses: has("strung") ? fittings(build, geometry) : [],
    springs: has("strung")
      ? stringEnds(build, geometry).map(({ crown, nut }, i) => ({
          a: crown,
          b: nut,
          stiffness: strings[i]!.design.axialStiffness / strings[i]!.scaleLength,
        }))
      : [],
    support: "free",
  };
}

/** Bridge, board's end and the rest come on at their own step of the work. */
function partOf(role: PatchRole, has: (from: BuildState) => boolean): boolean {
  if (role === "bridge") return has("bridged");
  if (role === "board") return has("necked");
  return has("braced top");
}

export interface StringEnds {
  readonly crown: Extract<PointRef, { part: "top" | "back" }>;
  readonly nut: Extract<PointRef, { part: "neck" }>;
}

/** Where each string meets the body: its crown over the top and its end at the nut. */
export function stringEnds(build: Build, geometry: InstrumentGeometry): readonly StringEnds[] {
  const { from, to } = boardLine(build, geometry);
  return build.strings.map(({ crown: [x, y, height], nut }) => {
    const s = (nut[0] - from[0]) / (to[0] - from[0]);
    const z = from[2] + (to[2] - from[2]) * s + build.neck.fretHeight;
    return {
      crown: { part: "top", x, y, height },
      nut: { part: "neck", at: [nut[0], nut[1], z] },
    };
  });
}

function sides(build: Build, plan: BodyPlan, finished: boolean): SidesSpec {
  const { sides: from } = build;
  return {
    outline: plan.outlinePolygon,
    plies: from.plies.map(({ wood, thickness }) => ({ material: wood, thickness, grainAngle: 0 })),
    film: finished && from.film !== null ? filmOf(from.film) : null,
    topLining: lining(from.topLining),
    backLining: lining(from.backLining),
    open: plan.openEdge,
  };
}

function lining({ width, height, wood, kind }: BuildLining): LiningSpec {
  return { width, height, material: wood, alongShare: kind === "kerfed" ? kerfedShare : 1 };
}

/**
 * A block's box, drawn out to the mid-surfaces of the plates and of the side that it is glued to (it is where it comes as
 * near to the back as a tenth of the depth): what it holds rigidly.
 */
function block(build: Build, plan: BodyPlan, part: RimPart): BlockSpec {
  const [x, y, z] = part.centre;
  const [along, across, height] = part.size;
  const { top, back, sides: side } = build;
  const { depthAtTail, depthAtNeck } = rimHeights(build, plan);
  const s = Math.min(1, Math.max(0, x / plan.length));
  const depth = depthAtTail + (depthAtNeck - depthAtTail) * s;
  const rise = (dome: typeof top.dome): number => {
    const corners = [-1, 1].flatMap((i) =>
      [-1, 1].map((j) => domeHeight(dome, x + (i * along) / 2, y + (j * across) / 2)),
    );
    return Math.max(...corners, domeHeight(dome, x, y)) - edgeHeight(plan, dome);
  };
  const slope = Math.abs(depthAtTail - depthAtNeck) / plan.length;
  const upper = z + height / 2;
  const lower = z - height / 2;
  const top1 = upper > -0.1 * depth ? Math.max(rise(top.dome), 0) + top.meanThickness : upper;
  const glued = depth + lower < 0.1 * depth;
  const bottom = glued
    ? -(depth + top.meanThickness + back.meanThickness + slope * along + Math.max(rise(back.dome), 0))
    : lower;
  const reach = side.thickness;
  const [x0, x1] = [x - along / 2 - reach, x + along / 2 + reach];
  return {
    name: part.name,
    mass: part.mass,
    centre: [(x0 + x1) / 2, y, (top1 + bottom) / 2],
    size: [x1 - x0, across, top1 - bottom],
  };
}

/** Tuners on the head, the rest where the document's parts lie. */
function fittings(build: Build, geometry: InstrumentGeometry): PointMassSpec[] {
  const line = boardLine(build, geometry);
  const reach = (build.neck.head.length / 2) * Math.cos(build.neck.head.angle);
  const head = headCentre(build, line, reach);
  return build.rimParts
    .filter((part) => part.kind === "fitting")
    .map(({ name, mass, centre }) => ({ name, mass, at: name === "tuners" ? head : centre }));
}
