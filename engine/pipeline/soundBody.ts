import { airProperties, holeFlow } from "#engine/air";
import { type BodyPlan, polygonPerimeter, polylineLength } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { done, failed, type Outcome, type Warning } from "#engine/numerics";
import { type BodyResponse, coupleBody } from "#engine/response";
import {
  type Panel,
  type PanelSystem,
  type PlateModes,
  panelMesh,
  panelModes,
  panelSystem,
  pointFlexibility,
} from "#engine/shells";
import { standardPressure } from "#engine/units";
import type { InstrumentGeometry } from "./geometry.ts";
import { platePanels } from "./platePanels.ts";
import { rimBody } from "./rimBody.ts";
import type { Stages } from "./stages.ts";
import type { SetString } from "./stringSet.ts";

/** How finely the body is computed. */
export interface BodySettings {
  /** Nodes wanted on each plate; the mesher comes near it. */
  readonly nodesPerPlate: number;
  /** Modes of each plate with its edge held. */
  readonly modesPerPlate: number;
}

export const defaultBodySettings: BodySettings = { nodesPerPlate: 2500, modesPerPlate: 60 };

/** The coupled body with the parts it was made of. */
export interface SoundBody {
  readonly response: BodyResponse;
  readonly top: PlateModes;
  readonly back: PlateModes;
  readonly topSystem: PanelSystem;
}

/** A plate's system on its default mesh. Fails as the mesher does. */
export function plateSystem(panel: Panel, plateArea: number, nodes: number): Outcome<PanelSystem> {
  const mesh = panelMesh(panel, meshSize(plateArea, nodes));
  if (!mesh.ok) return mesh;
  return done(panelSystem(panel, mesh.value), mesh.warnings);
}

/** Share of the nodes that the finer mesh at brace ends takes, measured on the three examples at 2,500 nodes. */
const nodesAtBraceEnds = 0.25;

/** Element size at which an area carries about so many nodes: one node owns sqrt(3)/2 size^2 in even triangles. */
export function meshSize(area: number, nodes: number): number {
  return Math.sqrt((2 * area) / (Math.sqrt(3) * (1 - nodesAtBraceEnds) * nodes));
}

/**
 * From the build to the body as strings and ear meet it: plates on the rim, their modes, the air, all coupled. This is
 * the seam at which a later whole-body mesh and a cavity of finite elements take over: they too give a BodyResponse.
 */
export function soundBody(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  settings: BodySettings,
  stages: Stages,
): Outcome<SoundBody> {
  const { plan, board } = geometry;
  const panels = platePanels(build, plan, board);
  const warnings: Warning[] = [];
  const parts: { system: PanelSystem; modes: PlateModes }[] = [];
  for (const [name, panel, area, from] of [
    ["top", panels.top, plan.areas.top, 0],
    ["back", panels.back, plan.areas.back, 0.45],
  ] as const) {
    const system = plateSystem(panel, area, settings.nodesPerPlate);
    if (!system.ok) return failed(system.reason, `the ${name}: ${system.detail}`);
    const modes = panelModes(
      system.value,
      settings.modesPerPlate,
      stages.stage(`modes of the ${name}`, from, from + 0.4),
    );
    if (!modes.ok) return failed(modes.reason, `the ${name}: ${modes.detail}`);
    warnings.push(...system.warnings, ...modes.warnings);
    parts.push({ system: system.value, modes: modes.value });
  }
  const [top, back] = parts as [(typeof parts)[0], (typeof parts)[0]];
  const flexibility = pointFlexibility(
    top.system,
    build.strings.map(({ crown: [x, y] }) => [x, y] as const),
  );
  if (!flexibility.ok) return flexibility;
  const cavity = cavityOf(build, plan);
  if (!cavity.ok) return cavity;
  const response = coupleBody(
    {
      top: top.modes,
      back: back.modes,
      topRim: {
        outline: plan.outlinePolygon,
        width: build.sides.thickness + build.sides.topLining.width,
      },
      backSeat: {
        depth: build.body.depthAtTail + (build.top.meanThickness + build.back.meanThickness) / 2,
        slope: (build.body.depthAtNeck - build.body.depthAtTail) / plan.length,
      },
      rim: { mass: rimBody(build, plan) },
      cavity: cavity.value,
      crowns: build.strings.map(({ string, crown: [x, y, height] }) => ({ string, x, y, height })),
      bridgeFlexibility: flexibility.value,
      stringStiffness: Float64Array.from(strings, (s) => s.design.axialStiffness / s.scaleLength),
    },
    stages.stage("air and body", 0.85, 0.9),
  );
  if (!response.ok) return response;
  return done({ response: response.value, top: top.modes, back: back.modes, topSystem: top.system }, [
    ...warnings,
    ...response.warnings,
  ]);
}

/** Air, net volume and hole. A scooped side opens as deep as the top lining. */
function cavityOf(build: Build, plan: BodyPlan) {
  const { temperature, relativeHumidity } = build.climate.shop;
  const air = airProperties({ temperature, pressure: standardPressure, relativeHumidity });
  const open = plan.openEdge.reduce((sum, stretch) => sum + polylineLength(stretch), 0);
  const hole = holeFlow({
    polygon: plan.holePolygon,
    wallThickness: build.holeWall,
    outline: plan.outlinePolygon,
    scoopArea: open * build.sides.topLining.height,
    air,
  });
  if (!hole.ok) return hole;
  return done({ volume: plan.netVolume, air, hole: hole.value, leak: 0, wallArea: wallArea(build, plan) });
}

/** Inner walls that exchange heat with the air, m2: top, back and sides. */
function wallArea(build: Build, plan: BodyPlan): number {
  const depth = (build.body.depthAtTail + build.body.depthAtNeck) / 2;
  return plan.areas.topTrue + plan.areas.backTrue + depth * polygonPerimeter(plan.outlinePolygon);
}
