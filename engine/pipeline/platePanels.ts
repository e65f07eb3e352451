import {
  type BoardLayout,
  type BodyPlan,
  equivalentRectangle,
  type Polygon,
  polygonArea,
  polygonIntersection,
} from "#engine/geometry";
import type { Build, BuildBrace, BuildFilm, BuildPatch, BuildPlate, BuildSides } from "#engine/instrument";
import {
  type EdgeSupport,
  type Panel,
  type PanelFilm,
  type PanelPatch,
  type PanelRib,
  rimEdge,
  type ThicknessField,
} from "#engine/shells";
import { depthAt } from "./rimBody.ts";

/** Top and back as panels for the shells, edges held by the rim; right-handed, body frame in plan. */
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

/** Puts plate, braces, bridge, bridge plate, board end and rim together; `board` is placed in the body frame. */
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
    ribs: plate.braces.map(rib),
    patches: [...patches, ...plate.patches.map(patch)],
    film: plate.film === null ? null : filmOf(plate.film),
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

/** A brace as a rib of rectangular section with its area and its inertia about the glue face. */
export function rib(brace: BuildBrace): PanelRib {
  const share = equivalentRectangle(brace.section);
  const { wood } = brace;
  return {
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

/**
 * Footprints of the blocks glued to a plate: solid boxes (a rod does not fill the box around it) that reach its inner face,
 * give or take a tenth of the depth there.
 */
function blocks(build: Build, plan: BodyPlan, plate: "top" | "back"): Polygon[] {
  const region = plate === "top" ? plan.topRegion : plan.backRegion;
  return build.rimParts
    .filter(({ centre: [x, , z], size: [along, across, height], volumeInside }) => {
      const depth = depthAt(build.body, plan.length, x);
      const gap = plate === "top" ? -(z + height / 2) : depth + (z - height / 2);
      return volumeInside > 0 && volumeInside > 0.99 * along * across * height && gap < depth / 10;
    })
    .flatMap(({ centre: [x, y], size: [along, across] }) => {
      const [x0, x1, y0, y1] = [x - along / 2, x + along / 2, y - across / 2, y + across / 2];
      return polygonIntersection(Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1), region.outline, snap);
    });
}

function patch(from: BuildPatch): PanelPatch {
  return {
    polygon: from.polygon,
    thickness: from.thickness,
    wood: from.wood,
    grainAngle: from.grainAngle,
    side: from.side,
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
    wood: build.neck.boardWood,
    grainAngle: 0,
    side: "outside",
  };
}

/**
 * Share of a kerfed lining's stiffness along the edge that its kerfs leave: the uncut web, about a sixth of the width
 * (common practice, no source).
 */
const kerfedShare = 1 / 6;

/** The rim as an edge, from side and lining. */
function edgeOf(build: Build, plan: BodyPlan, plate: "top" | "back"): EdgeSupport {
  const { sides, body } = build;
  const lining = plate === "top" ? sides.topLining : sides.backLining;
  const share = lining.kind === "kerfed" ? kerfedShare : 1;
  return rimEdge({
    bendingStiffnessAcross: stiffnessAcross(sides),
    depth: (depthAt(body, plan.length, 0) + depthAt(body, plan.length, plan.length)) / 2,
    shearStiffness: sides.plies.reduce((sum, ply) => sum + ply.wood.GLR * ply.thickness, 0),
    lining: {
      width: lining.width,
      height: lining.height,
      EL: share * lining.wood.EL,
      G: share * lining.wood.GLR,
    },
    open: plate === "top" ? plan.openEdge : [],
    held: blocks(build, plan, plate),
  });
}

/**
 * Bending stiffness of the side across its depth, N m: sum of E (z1^3 - z0^3)/3 over the plies about mid-thickness (classical laminate,
 * plies of unlike stiffness not re-centred). The grain of every ply runs along the edge, so E is that across it.
 */
function stiffnessAcross({ plies, thickness }: BuildSides): number {
  let z = -thickness / 2;
  let stiffness = 0;
  for (const ply of plies) {
    const next = z + ply.thickness;
    stiffness += (ply.wood.ER * (next ** 3 - z ** 3)) / 3;
    z = next;
  }
  return stiffness;
}
