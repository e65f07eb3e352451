import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import type { BodySettings } from "../body/bodySettings.ts";
import type { MadeBody } from "../body/coupledBody.ts";
import type { StageCrew } from "../body/jobs.ts";
import { madeBody } from "../body/wholeBody.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import type { Stages } from "../stages.ts";
import type { SetString } from "../stringSet.ts";
import { strungShell } from "../structure/strungShell.ts";
import type { BodyLoadAnswer, LoadTask } from "./bodyLoad.ts";
import { type LoadLimits, loadLimits } from "./loadLimits.ts";
import { type ClimateRow, climateRows, loadTask } from "./loadTask.ts";
import { loadVariants, usualVariants, type VariantFigures } from "./loadVariants.ts";
import { movingShell } from "./woodMovement.ts";

/** All that was computed of the load on the body: what report, JSON and drawings are made of. */
export interface ComputedLoad {
  readonly made: MadeBody;
  readonly task: LoadTask;
  readonly answer: BodyLoadAnswer;
  readonly variants: readonly VariantFigures[];
  /** In the order of the answer's. */
  readonly climates: readonly ClimateRow[];
  readonly limits: LoadLimits;
  /** Woods of which no shrinkage is known, by their place in the document. */
  readonly movementUnknown: readonly string[];
}

/** The strung body is made and loaded, no modes are needed; its variants beside it. Fails as the stages do. */
export async function computeLoad(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  settings: BodySettings,
  crew: StageCrew,
  stages: Stages,
): Promise<Outcome<ComputedLoad>> {
  const { spec, unknown } = movingShell(build, strungShell(build, geometry, strings));
  const task = loadTask(build, geometry, strings);
  if (!task.ok) return task;
  const climates = climateRows(build);
  if (!climates.ok) return climates;
  const made = await madeBody(spec, settings, crew, stages.stage("meshes and matrices", 0, 0.4));
  if (!made.ok) return made;
  const onBody = stages.stage("strings and climates on the body", 0.4, 0.9);
  const beside = stages.stage("variants", 0.9, 1);
  const [answer, variants] = await Promise.all([
    crew.run("load", { ...made.value, ...task.value }, onBody),
    loadVariants(usualVariants(build, made.value), task.value, settings, crew, beside),
  ]);
  if (!answer.ok) return answer;
  if (!variants.ok) return variants;
  const limits = loadLimits(build, made.value.mesh, answer.value, climates.value);
  if (!limits.ok) return limits;
  return done({
    made: made.value,
    task: task.value,
    answer: answer.value,
    variants: variants.value,
    climates: climates.value,
    limits: limits.value,
    movementUnknown: unknown,
  });
}
