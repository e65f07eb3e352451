import type { BodyStress } from "#engine/shells";
import { inUnit } from "#engine/units";
import type { MarginRow } from "#engine/verdicts";
import type { LoadFigures } from "./bodyLoad.ts";
import type { ClimateRow } from "./loadTask.ts";
import { leastOfEach, type MarginReport, marginReport } from "./marginReport.ts";

/** How the body moves, as the JSON contract has it. */
export interface LoadRow {
  readonly name: string;
  readonly bridgeRotationDeg: number;
  readonly saddleRiseM: number;
  readonly topLeastM: number;
  readonly topGreatestM: number;
  readonly neckTiltDeg: number;
  readonly neckTwistDeg: number;
  /** Change of each string's height over fret 12, string 1 first. */
  readonly actionChangeM: readonly number[];
}

export interface TuningRow extends LoadRow {
  readonly totalN: number;
}

/** What a climate alone does to the shape, and the stresses that it makes together with the strings. */
export interface ClimateReport extends LoadRow {
  readonly temperatureC: number;
  readonly relativeHumidity: number;
  /** Moisture content of wood in balance with the air, fraction: in the shop, there. */
  readonly moisture: readonly [shop: number, there: number];
  readonly stressPa: BodyStress;
  /** The least margins with the strings in this air, one for each way of breaking, points apart. */
  readonly leastMargins: readonly MarginReport[];
}

export function loadRow(name: string, { figures, action }: LoadFigures): LoadRow {
  return {
    name,
    bridgeRotationDeg: inUnit(figures.bridgeRotation, "deg"),
    saddleRiseM: figures.saddleRise,
    topLeastM: figures.topLeast.rise,
    topGreatestM: figures.topGreatest.rise,
    neckTiltDeg: inUnit(figures.blockRotation[1], "deg"),
    neckTwistDeg: inUnit(figures.blockRotation[0], "deg"),
    actionChangeM: Array.from(action),
  };
}

export function climateReport(
  { name, air, moisture }: ClimateRow,
  answer: LoadFigures & { readonly stress: BodyStress },
  margins: readonly MarginRow[],
): ClimateReport {
  return {
    ...loadRow(name, answer),
    temperatureC: inUnit(air.temperature, "C"),
    relativeHumidity: air.relativeHumidity,
    moisture,
    stressPa: answer.stress,
    leastMargins: leastOfEach(margins).map(marginReport),
  };
}
