import {
  type BoardLayout,
  type BodyPlan,
  equivalentRectangle,
  type Polygon,
  polygonArea,
  polygonIntersection,
} from "#engine/geometry";
import type { Build, BuildBrace, BuildFilm, BuildPatch, BuildPlate } from "#engine/instrument";
import type { Panel, PanelFilm, PanelPatch, PanelRib, ThicknessField } from "#engine/shells";

/** Top and back as panels for the shells, edges free (the sides join them); right-handed, body frame in plan. */
export interface PlatePanels {
  readonly top: Panel;
  readonly back: Panel;
  /** What each patch is, in the panel's order: they come on at different steps of the work. */
  readonly topPatches: readonly PatchRole[];
  readonly backPatches: readonly PatchRole[];
}

export type PatchRole = "bridge" | "bridge plate" | "board" | "plate";

/** Nearer than this two corners are one, m: a tenth of what a hand can cut. */
const snap = 1e-5;

/** Puts plate, braces, bridge, bridge plate and board end together; `board` is placed in the body frame. */
export function platePanels(build: Build, plan: BodyPlan, board: BoardLayout): PlatePanels {
  const patches = build.bridge.patches.map(patch);
  const roles: PatchRole[] = patches.map(() => "bridge");
  const add = (made: PanelPatch | null, role: PatchRole): void => {
    if (made === null) return;
    patches.push(made);
    roles.push(role);
  };
  add(build.bridgePlate === null ? null : patch(build.bridgePlate), "bridge plate");
  add(boardTongue(build, plan, board), "board");
  return {
    topPatches: [...roles, ...build.top.patches.map((): PatchRole => "plate")],
    backPatches: build.back.patches.map((): PatchRole => "plate"),
    top: panel(build.top, plan.topRegion, patches),
    back: panel(build.back, plan.backRegion, []),
  };
}

function panel(plate: BuildPlate, region: BodyPlan["topRegion"], patches: readonly PanelPatch[]): Panel {
  return {
    outline: region.outline,
    holes: region.holes,
    dome: plate.dome,
    wood: plate.wood,
    thickness: thicknessField(plate),
    grainAngle: plate.grainAngle,
    ribs: plate.braces.map(rib),
    patches: [...patches, ...plate.patches.map(patch)],
    film: plate.film === null ? null : filmOf(plate.film),
    edge: { kind: "free" },
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

/** A brace as a rib of rectangular section with its area and its inertia about the glue face. */
export function rib(brace: BuildBrace): PanelRib {
  const share = equivalentRectangle(brace.section);
  const { wood } = brace;
  return {
    name: brace.name,
    path: brace.path,
    width: brace.width * share.width,
    heights: brace.heights.map(([s, height]) => [s, height * share.height] as const),
    material: {
      density: wood.density,
      EL: wood.EL,
      G: wood.GLR,
      ET: wood.ER,
      loss: { L: wood.loss.L, G: wood.loss.LR, T: wood.loss.R },
    },
    side: "inside",
    fullHeight: 1 / share.height,
  };
}

/** Poisson's ratio of a cured film, from memory (0.3 to 0.4 for hard polymers). */
const filmPoisson = 0.35;

/** Cured finish as an isotropic sheet. */
export function filmOf({ thickness, density, stiffness: E, loss }: BuildFilm): PanelFilm {
  const G = E / (2 * (1 + filmPoisson));
  return {
    thickness,
    material: {
      density,
      EL: E,
      ER: E,
      nuLR: filmPoisson,
      GLR: G,
      GLT: G,
      GRT: G,
      loss: { L: loss, R: loss, LR: loss, transverse: loss },
    },
  };
}

function patch(from: BuildPatch): PanelPatch {
  return {
    name: from.name,
    polygon: from.polygon,
    thickness: from.thickness,
    wood: from.wood,
    grainAngle: from.grainAngle,
    side: from.side,
  };
}

/** Name of the patch that the fingerboard's end is. */
export const boardEnd = "end of the fingerboard";

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
    name: boardEnd,
    polygon: glued,
    thickness: build.neck.boardThickness,
    wood: build.neck.boardWood,
    grainAngle: 0,
    side: "outside",
  };
}
