import {
  type BoardLayout,
  type BodyPlan,
  clipSegment,
  type Polygon,
  polygonArea,
  polygonIntersection,
} from "#engine/geometry";
import type { Build, BuildBrace, BuildPatch, BuildPlate, BuildSides } from "#engine/instrument";
import {
  type EdgeSupport,
  type Panel,
  type PanelPatch,
  type PanelRib,
  type RimSide,
  rimEdge,
  type ThicknessField,
} from "#engine/shells";
import { depthAt } from "./rimBody.ts";

/** Top and back as panels for the shells, edges held by the rim; right-handed, body frame in plan. */
export interface PlatePanels {
  readonly top: Panel;
  readonly back: Panel;
}

/** Nearer than this two corners are one, m: a tenth of what a hand can cut. */
const snap = 1e-5;

/** Puts plate, braces, bridge, bridge plate, board end and rim together; `board` is placed in the body frame. */
export function platePanels(build: Build, plan: BodyPlan, board: BoardLayout): PlatePanels {
  const patches = [bridgePatch(build)];
  if (build.bridgePlate !== null) patches.push(patch(build.bridgePlate));
  const tongue = boardTongue(build, plan, board);
  if (tongue !== null) patches.push(tongue);
  return {
    top: panel(build.top, plan.topRegion, patches, edgeOf(build, plan, "top")),
    back: panel(build.back, plan.backRegion, [], edgeOf(build, plan, "back")),
  };
}

function panel(
  plate: BuildPlate,
  region: BodyPlan["topRegion"],
  patches: readonly PanelPatch[],
  edge: EdgeSupport,
): Panel {
  return {
    outline: region.outline,
    holes: region.holes,
    dome: plate.dome,
    wood: plate.wood,
    thickness: thicknessField(plate),
    grainAngle: plate.grainAngle,
    ribs: plate.braces.flatMap((brace) => ribs(brace, region)),
    patches: [...patches, ...plate.patches.map(patch)],
    film: plate.film === null ? null : { massPerArea: plate.film.massPerArea },
    edge,
  };
}

function thicknessField({ thickness }: BuildPlate): ThicknessField {
  if (thickness.kind === "uniform") return thickness.thickness;
  const spots: [number, number, number][] = [];
  for (let i = 0; i + 2 < thickness.spots.length; i += 3) {
    spots.push([thickness.spots[i]!, thickness.spots[i + 1]!, thickness.spots[i + 2]!]);
  }
  return { spots };
}

/**
 * Width and height factors of the rectangle that stands for a section: same area and same second moment about the glue
 * face, so that what stiffens the plate is kept (the centroid then lies 6 % higher for a triangle, 5 % for an arch).
 * Triangle: A = bh/2, I = bh^3/12. Parabolic arch: A = 2bh/3, I = 16 bh^3/105 (both closed forms, about the base).
 */
const sectionFactors: Readonly<Record<BuildBrace["section"], readonly [width: number, height: number]>> = {
  rectangular: [1, 1],
  triangular: [Math.SQRT1_2, Math.SQRT1_2],
  rounded: [(2 / 3) / Math.sqrt(24 / 35), Math.sqrt(24 / 35)],
};

/** The pieces of a brace that lie on the plate, each a rib with its part of the height profile. */
function ribs(brace: BuildBrace, region: BodyPlan["topRegion"]): PanelRib[] {
  const [widthFactor, heightFactor] = sectionFactors[brace.section];
  const points = brace.path.length / 2;
  const whole = brace.heights.map(([s, h]) => [s, h * heightFactor] as const);
  const common = {
    width: brace.width * widthFactor,
    material: {
      density: brace.wood.density,
      EL: brace.wood.EL,
      G: brace.wood.GLR,
      ET: brace.wood.ER,
      loss: { L: brace.wood.loss.L, G: brace.wood.loss.LR, T: brace.wood.loss.R },
    },
    side: "inside" as const,
  };
  if (points !== 2) return [{ ...common, path: brace.path, heights: whole }];
  const [ax, ay, bx, by] = brace.path as unknown as [number, number, number, number];
  return clipSegment(region.outline, region.holes, [ax, ay], [bx, by]).map(([s0, s1]) => ({
    ...common,
    path: Float64Array.of(ax + s0 * (bx - ax), ay + s0 * (by - ay), ax + s1 * (bx - ax), ay + s1 * (by - ay)),
    heights: cutProfile(whole, s0, s1),
  }));
}

/** The part of a piecewise linear profile between s0 and s1, run from 0 to 1 again. */
function cutProfile(
  heights: readonly (readonly [number, number])[],
  s0: number,
  s1: number,
): readonly (readonly [number, number])[] {
  const at = (s: number): number => {
    const next = heights.findIndex(([t]) => t >= s);
    if (next === 0) return heights[0]![1];
    if (next < 0) return heights[heights.length - 1]![1];
    const [ta, ha] = heights[next - 1]!;
    const [tb, hb] = heights[next]!;
    return ha + ((hb - ha) * (s - ta)) / (tb - ta);
  };
  const inner = heights.filter(([s]) => s > s0 && s < s1).map(([s, h]) => [(s - s0) / (s1 - s0), h] as const);
  return [[0, at(s0)], ...inner, [1, at(s1)]];
}

function patch(from: BuildPatch): PanelPatch {
  return { polygon: from.polygon, thickness: from.thickness, wood: from.wood, grainAngle: from.grainAngle, side: from.side };
}

/** The bridge: its wood, heavier or lighter so that the patch weighs what the finished bridge weighs. */
function bridgePatch({ bridge }: Build): PanelPatch {
  const volume = Math.abs(polygonArea(bridge.polygon)) * bridge.thickness;
  const mass = (bridge.givenMass ?? bridge.wood.density * volume) + bridge.addedMass;
  return {
    polygon: bridge.polygon,
    thickness: bridge.thickness,
    wood: { ...bridge.wood, density: mass / volume },
    grainAngle: bridge.grainAngle,
    side: "outside",
  };
}

/** The end of the fingerboard where it is glued to the top, or null where it stands clear or does not reach the body. */
function boardTongue(build: Build, plan: BodyPlan, board: BoardLayout): PanelPatch | null {
  if (build.neck.boardClear) return null;
  const corners = [board.bassEdge[0], board.bassEdge[1], board.trebleEdge[1], board.trebleEdge[0]];
  const whole: Polygon = Float64Array.from(corners.flat());
  if (polygonArea(whole) < 0) whole.set(corners.reverse().flat());
  const glued = polygonIntersection(whole, plan.topRegion.outline, snap).reduce<Polygon | null>(
    (largest, piece) => (largest === null || polygonArea(piece) > polygonArea(largest) ? piece : largest),
    null,
  );
  if (glued === null) return null;
  return {
    polygon: glued,
    thickness: build.neck.boardThickness,
    wood: build.neck.wood,
    grainAngle: 0,
    side: "outside",
  };
}

/** Bending stiffness of the side across its depth, and its shear, from wood and thickness; linings from theirs. */
function edgeOf(build: Build, plan: BodyPlan, plate: "top" | "back"): EdgeSupport {
  const { sides } = build;
  const lining = plate === "top" ? sides.topLining : sides.backLining;
  const depth = (depthAt(build.body, plan.length, 0) + depthAt(build.body, plan.length, plan.length)) / 2;
  return rimEdge({
    bendingStiffnessAcross: acrossStiffness(sides),
    depth,
    shearStiffness: sides.wood.GLR * sides.thickness,
    lining: {
      width: lining.width,
      height: lining.height,
      EL: lining.kind === "kerfed" ? 0 : lining.wood.EL,
      G: lining.wood.GLR,
      density: lining.wood.density,
    },
    open: plate === "top" ? plan.openEdge : [],
  } satisfies RimSide);
}

/** E t^3 / 12 across the grain of the side, which runs along the edge; plies bend together through their glue. */
function acrossStiffness({ wood, thickness }: BuildSides): number {
  return (wood.ER * thickness ** 3) / 12;
}
