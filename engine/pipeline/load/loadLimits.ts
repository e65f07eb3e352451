import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import type { BodyMesh } from "#engine/shells";
import {
  actionRise,
  actionRiseOf,
  breakage,
  buckling,
  type ClimateCase,
  climate,
  creepRotation,
  hotCar,
  type MarginRow,
  type Verdict,
} from "#engine/verdicts";
import { type CreepRange, creepRange } from "#engine/woods";
import type { BodyLoadAnswer } from "./bodyLoad.ts";
import { climateMargins, type StressedBody, stringMargins } from "./loadMargins.ts";
import type { ClimateRow } from "./loadTask.ts";
import { plateMeans } from "./meanStress.ts";

/** What the answer of the body is held against: strengths, creep, customs. */
export interface LoadLimits {
  /** Under the strings alone, least first. */
  readonly margins: readonly MarginRow[];
  /** With the strings, by climate. */
  readonly climates: readonly { readonly name: string; readonly margins: readonly MarginRow[] }[];
  readonly climateCases: readonly ClimateCase[];
  readonly creep: readonly { readonly years: number; readonly range: CreepRange }[];
  /** Unmarked. */
  readonly verdicts: readonly Verdict[];
}

/** The model's blocks do not move with the air, a real one does: in other air plates are not judged so near to one, m. */
const blockClear = 0.02;
/** A guitar sees winter and summer: creep as in EN 1995-1-1's class 2. */
const creepClass = 2;
/** In its first weeks it stays in one house. */
const firstWeeksClass = 1;
const creepYears = [1, 10, 50] as const;

/** Margins and verdicts on them, on buckling, creep, rise of action, climates. Fails with 'out-of-range' as `stringMargins` does. */
export function loadLimits(
  build: Build,
  mesh: BodyMesh,
  answer: BodyLoadAnswer,
  rows: readonly ClimateRow[],
): Outcome<LoadLimits> {
  const stressed = ({ stress, maps }: Pick<BodyLoadAnswer, "stress" | "maps">, clear = 0): StressedBody => ({
    stress,
    means: plateMeans(mesh, maps, clear),
  });
  const strung = stringMargins(build, stressed(answer), answer.glueLine);
  if (!strung.ok) return strung;
  const climates: LoadLimits["climates"][number][] = [];
  for (const [i, { name, air }] of rows.entries()) {
    const found = climateMargins(build, name, air, stressed(answer.climates[i]!, blockClear));
    if (!found.ok) return found;
    climates.push({ name, margins: found.value });
  }
  const creep: LoadLimits["creep"][number][] = [];
  for (const years of creepYears) {
    const range = creepRange(years, creepClass);
    if (!range.ok) return range;
    creep.push({ years, range: range.value });
  }
  const climateCases = rows.map(({ name, air, moisture }, i): ClimateCase => {
    const { figures, action } = answer.climates[i]!;
    return {
      name,
      ...air,
      moisture,
      saddleRise: figures.saddleRise,
      actionChange: largest(action),
      brief: air === build.climate.hotCar,
      across: leastAcross(climates[i]!.margins),
    };
  });
  return done({
    margins: strung.value,
    climates,
    climateCases,
    creep,
    verdicts: [
      breakage(strung.value),
      buckling(answer.buckling),
      actionRise(actionRiseOf(Array.from(answer.action), firstWeeksClass)),
      creepRotation(answer.load.figures.bridgeRotation, creep),
      climate(climateCases),
      hotCar(build.bridge.glue, build.climate.hotCar.temperature),
    ],
  });
}

function largest(values: Float64Array): number {
  return values.reduce((most, v) => (Math.abs(v) > Math.abs(most) ? v : most), 0);
}

/** The least firm margin in tension across the grain: where a plate cracks. */
function leastAcross(rows: readonly MarginRow[]): { readonly margin: number; readonly part: string } | null {
  const row = rows.find((r) => r.kind === "tension-across" && !r.peak);
  return row === undefined || row.margin === null ? null : { margin: row.margin, part: row.part };
}
