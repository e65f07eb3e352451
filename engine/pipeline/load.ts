import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import type { BodyStress, BucklePlace, GlueLine } from "#engine/shells";
import { inUnit } from "#engine/units";
import {
  bridgeRotation,
  markMeant,
  saddleFit,
  stringStrength,
  totalLoad,
  type Verdict,
} from "#engine/verdicts";
import type { BodySettings } from "./body/bodySettings.ts";
import type { StageCrew } from "./body/jobs.ts";
import { bridgeCouple, type StringLoad } from "./body/stringLoad.ts";
import { loadCautions } from "./cautions.ts";
import type { InstrumentGeometry } from "./geometry.ts";
import { type ComputedLoad, computeLoad } from "./load/computeLoad.ts";
import { type ClimateReport, climateReport, type LoadRow, loadRow, type TuningRow } from "./load/loadRows.ts";
import { tuningTensions } from "./load/loadTask.ts";
import { type CreepReport, creepReport, type MarginReport, marginReport } from "./load/marginReport.ts";
import { type Stages, unwatched } from "./stages.ts";
import { type Stamp, stamp } from "./stamp.ts";
import type { SetString } from "./stringSet.ts";
import { unmarked } from "./unmarked.ts";

/** The JSON contract of `load`. */
export interface LoadReport {
  readonly strings: readonly {
    readonly string: number;
    readonly note: string;
    readonly tensionN: number;
    readonly linearDensityKgPerM: number;
    readonly breakMargin: number;
    readonly inharmonicityB: number;
  }[];
  readonly totalN: number;
  readonly bridge: {
    readonly rotationDeg: number;
    readonly momentNm: number;
    readonly saddleRiseM: number;
    readonly topLeastM: number;
    readonly topGreatestM: number;
    readonly validity: string;
  };
  /** Linear: the load could grow by so much before the body buckles; half of it is what can be counted on. */
  readonly buckling: {
    readonly factor: number | null;
    readonly knockDown: 2;
    /** Where the shape that it buckles into moves most; null where there is none. */
    readonly place: BucklePlace | null;
  };
  /** Turn of the neck block: tilt positive where its top end moves towards the nut. */
  readonly neckBlock: { readonly tiltDeg: number; readonly twistDeg: number };
  /** Since glue-up, elastic: rise of each string over fret 12, m; string 1 first. */
  readonly actionChangeM: readonly number[];
  /** Under the strings; plates, patches, braces, sides, rods. */
  readonly stressPa: BodyStress;
  /** Between bridge and top; null where no top lies behind the bridge. Pa, N, m. */
  readonly glueLine: GlueLine | null;
  /** The body as designed, without its rods, with its cutaway on the other side: as far as it has them. */
  readonly variants: readonly LoadRow[];
  /** Every tuning of the document; the set's own first. */
  readonly tunings: readonly TuningRow[];
  readonly climates: readonly ClimateReport[];
  /** Every stress under the strings against what bears it for fifty years; least margin first, not known last. */
  readonly margins: readonly MarginReport[];
  /** What the elastic rotation and sinking grow to. */
  readonly creep: readonly CreepReport[];
  readonly cautions: readonly string[];
  /** Woods of which no shrinkage is known, by their place in the document: they keep their size in `climates`. */
  readonly movementUnknown: readonly string[];
  readonly verdicts: readonly Verdict[];
  readonly stamp: Stamp;
}

export const loadValidity =
  "elastic model of the whole body, free in space, perfect joints assumed, good to 20 %; creep is not in it: see the " +
  "table of years; it is known only within a factor of 2 to 3";

/** Verdicts on the load, unmarked. */
export function loadVerdicts(
  build: Build,
  strings: readonly SetString[],
  load: StringLoad,
): readonly Verdict[] {
  const { saddle } = build;
  const heights = [saddle.heightBass, saddle.heightTreble];
  return [
    stringStrength(
      strings.map((s) => ({
        string: s.string,
        note: s.note,
        tension: s.tension,
        breakingForce: s.design.breakingForce,
      })),
    ),
    totalLoad(strings.map((s) => s.tension)),
    saddleFit({
      stringHeight: [Math.min(...heights), Math.max(...heights)],
      bridgeHeight: build.bridge.thickness,
      slotDepth: saddle.slotDepth,
    }),
    bridgeRotation(load.figures.bridgeRotation, build.targets.bridgeRotation),
  ];
}

/** The whole of `fairbout load`. Fails as `computeLoad` does. */
export async function loadReport(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  settings: BodySettings,
  crew: StageCrew,
  stages: Stages = unwatched,
): Promise<Outcome<LoadReport>> {
  const load = await computeLoad(build, geometry, strings, settings, crew, stages);
  return load.ok ? done(loadReportOf(build, geometry, strings, settings, load.value)) : load;
}

/** The JSON contract's content of a computed load. */
export function loadReportOf(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  settings: BodySettings,
  { task, answer, variants, climates, limits, movementUnknown }: ComputedLoad,
): LoadReport {
  const { figures } = answer.load;
  const own = { figures, action: answer.action };
  return {
    strings: stringRows(strings),
    totalN: totalPull(strings),
    bridge: {
      rotationDeg: inUnit(figures.bridgeRotation, "deg"),
      momentNm: bridgeCouple(task.load, build, geometry.plan),
      saddleRiseM: figures.saddleRise,
      topLeastM: figures.topLeast.rise,
      topGreatestM: figures.topGreatest.rise,
      validity: loadValidity,
    },
    buckling: { factor: answer.buckling, knockDown: 2, place: answer.bucklePlace },
    neckBlock: {
      tiltDeg: inUnit(figures.blockRotation[1], "deg"),
      twistDeg: inUnit(figures.blockRotation[0], "deg"),
    },
    actionChangeM: Array.from(answer.action),
    stressPa: answer.stress,
    glueLine: answer.glueLine,
    variants: [loadRow("as designed", own), ...variants.map((one) => loadRow(one.name, one))],
    tunings: build.tunings.map(({ name, frequencies }, t) => ({
      ...loadRow(name, t === 0 ? own : answer.tunings[t - 1]!),
      totalN: tuningTensions(strings, frequencies).reduce((sum, pull) => sum + pull, 0),
    })),
    climates: climates.map((row, k) => climateReport(row, answer.climates[k]!, limits.climates[k]!.margins)),
    margins: limits.margins.map(marginReport),
    creep: limits.creep.map(creepReport),
    cautions: loadCautions,
    movementUnknown,
    verdicts: markMeant([...loadVerdicts(build, strings, answer.load), ...limits.verdicts], build.meant)
      .verdicts,
    stamp: stamp("load", unmarked(build), { meshSize: settings.meshSize }),
  };
}

/** Sum of the tensions, N. */
export function totalPull(strings: readonly SetString[]): number {
  return strings.reduce((sum, s) => sum + s.tension, 0);
}

/** Rows of the strings as the JSON contracts and the report name them. */
export function stringRows(strings: readonly SetString[]): LoadReport["strings"] {
  return strings.map((s) => ({
    string: s.string,
    note: s.note,
    tensionN: s.tension,
    linearDensityKgPerM: s.design.linearDensity,
    breakMargin: s.breakMargin,
    inharmonicityB: s.inharmonicityB,
  }));
}
