import type { LoadSheetView } from "#engine/drawings";
import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import type { GlueLine } from "#engine/shells";
import { fromUnit } from "#engine/units";
import { drawnBoard, drawnMesh, drawnPlan, subtitle } from "../drawnInstrument.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import type { LoadReport } from "../load.ts";
import { type NeckReport, neckReport } from "../neck/neckReport.ts";
import type { SetString } from "../stringSet.ts";
import { centreSection } from "./centreSection.ts";
import type { ComputedLoad } from "./computeLoad.ts";
import type { LoadRow } from "./loadRows.ts";

/**
 * What the load report draws, gathered from what was computed and from its JSON; a left-handed instrument is mirrored here. Fails
 * as `neckReport` does.
 */
export function loadView(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  { made, answer, limits }: ComputedLoad,
  report: LoadReport,
): Outcome<LoadSheetView> {
  const { figures, topRise } = answer.load;
  const mean = answer.action.reduce((sum, v) => sum + v, 0) / answer.action.length;
  const neck = neckReport(build, geometry, strings, mean);
  if (!neck.ok) return neck;
  const left = build.body.hand === "left";
  return done({
    title: build.name,
    subtitle: subtitle(build),
    hand: build.body.hand,
    plan: drawnPlan(build, geometry),
    board: drawnBoard(build, geometry),
    load: {
      strings: report.strings,
      totalN: report.totalN,
      bridgeRotation: figures.bridgeRotation,
      saddleRise: figures.saddleRise,
    },
    neckBlock: { tilt: figures.blockRotation[1], twist: figures.blockRotation[0] },
    buckling: report.buckling,
    deflection: { mesh: drawnMesh(build, made.mesh.top), rise: topRise },
    section: centreSection(
      build,
      geometry,
      { mesh: made.mesh, layout: answer.layout },
      answer.motion,
      figures.bridgeRotation,
    ),
    stresses: (["top", "back"] as const).flatMap((plate) => {
      const mesh = made.mesh[plate];
      const stress = answer.maps[plate];
      if (mesh === null || stress === null) return [];
      const { grainAngle } = build[plate];
      return [{ plate, mesh: drawnMesh(build, mesh), stress, grainAngle: left ? -grainAngle : grainAngle }];
    }),
    glueLine: answer.glueLine === null ? null : glueView(build.bridge.glue, answer.glueLine),
    margins: limits.margins.map((row) =>
      row.place === null || !left ? row : { ...row, place: { x: row.place.x, y: -row.place.y } },
    ),
    variants: report.variants.map(rowView),
    tunings: report.tunings.map((row, i) => ({
      ...rowView(row),
      notes: [...build.tunings[i]!.notes].reverse().join(" "),
      totalN: row.totalN,
    })),
    climates: limits.climateCases,
    creep: limits.creep,
    neck: neckView(neck.value),
    verdicts: report.verdicts,
    limits: [
      `Load: ${report.bridge.validity}.`,
      ...report.movementUnknown.map(
        (path) => `No shrinkage is known of ${path}: it keeps its size in other air.`,
      ),
    ],
    cautions: report.cautions,
    stamp: report.stamp,
  });
}

function rowView(row: LoadRow): LoadSheetView["variants"][number] {
  return {
    name: row.name,
    bridgeRotation: fromUnit(row.bridgeRotationDeg, "deg"),
    blockTilt: fromUnit(row.neckTiltDeg, "deg"),
    blockTwist: fromUnit(row.neckTwistDeg, "deg"),
    actionChange: row.actionChangeM,
  };
}

function glueView(glue: string, line: GlueLine): NonNullable<LoadSheetView["glueLine"]> {
  return {
    glue,
    area: line.area,
    pull: line.pull,
    couple: line.couple,
    meanShear: line.shear.mean,
    edgeShear: line.shear.edge,
    peelPerLength: line.peel.perLength,
    meanPeel: line.peel.meanEdge,
    edgePeel: line.peel.edge,
  };
}

function neckView({ relief, firstWeeks }: NeckReport): NonNullable<LoadSheetView["neck"]> {
  const { weeks, neckM, wholeM, customaryM } = firstWeeks;
  return {
    reliefWanted: relief.wantedM,
    reliefSlack: relief.slackM,
    reliefStated: relief.statedM,
    statedForce: relief.statedForceN,
    wantedForce: relief.wantedForceN,
    firstWeeks: { weeks, ...(wholeM ?? neckM), withBody: wholeM !== null, customary: customaryM },
  };
}
