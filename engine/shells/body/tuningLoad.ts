import { type Context, done, type Outcome } from "#engine/numerics";
import type { BodySystem } from "./bodyModel.ts";
import type { PointRef, Triple } from "./bodySpec.ts";
import { motionsUnder } from "./motionRows.ts";
import { pointRows } from "./pointRows.ts";
import { type BodyLoad, type StringPull, stringLine, stringLoads } from "./staticLoads.ts";
import { type BodyStatic, bodyStatic } from "./staticSolution.ts";

/** What a solution tells: unknowns and motions relative to the datum, and how well it is in equilibrium. */
export type BodyAnswer = Pick<BodyStatic, "rows" | "motion" | "residual">;

/** Answers of the body to each string pulling by 1 N alone, and to further loads, all on one factorisation. */
export interface UnitAnswers {
  readonly strings: readonly BodyAnswer[];
  readonly further: readonly BodyAnswer[];
}

/** Fails as `bodyStatic` does. */
export function unitAnswers(
  system: BodySystem,
  pulls: readonly StringPull[],
  footprint: Float64Array,
  further: readonly (readonly BodyLoad[])[],
  ctx: Context,
): Outcome<UnitAnswers> {
  const units = pulls.map((pull) => stringLoads(system, [{ ...pull, tension: 1 }], footprint));
  const solved = bodyStatic(system, [...units, ...further], ctx);
  if (!solved.ok) return solved;
  return done({ strings: solved.value.slice(0, units.length), further: solved.value.slice(units.length) });
}

/** Answer to strings pulling by `tensions` (N, as in `unitAnswers`): the model is linear, so any tuning is a sum. */
export function tuningLoad(units: readonly BodyAnswer[], tensions: readonly number[]): BodyAnswer {
  return summedAnswers(units, tensions);
}

/** Sum of answers, each times its factor. The residual is the greatest of those that count. */
export function summedAnswers(answers: readonly BodyAnswer[], factors: readonly number[]): BodyAnswer {
  const rows = new Float64Array(answers[0].rows.length);
  const motion = new Float64Array(answers[0].motion.length);
  let residual = 0;
  for (const [a, one] of answers.entries()) {
    const f = factors[a];
    if (f === 0) continue;
    for (let k = 0; k < rows.length; k++) rows[k] += f * one.rows[k];
    for (let k = 0; k < motion.length; k++) motion[k] += f * one.motion[k];
    residual = Math.max(residual, one.residual);
  }
  return { rows, motion, residual };
}

/**
 * Change of each string's height (m) over a fret's crown, square to the string: how far its straight line from nut to saddle crown
 * leaves `frets[i]`, the place of the crown under string i, on the neck. Nut and fret move with the neck's beam, the saddle's crown
 * with the top. Fails as `pointRows` does.
 */
export function actionChanges(
  system: BodySystem,
  { rows }: Pick<BodyAnswer, "rows">,
  pulls: readonly StringPull[],
  frets: readonly Triple[],
): Outcome<Float64Array> {
  const asked = pulls.flatMap(({ crown, nut }, i): PointRef[] => [
    { part: "top", ...crown },
    { part: "neck", at: nut },
    { part: "neck", at: frets[i] },
  ]);
  const found = pointRows(system, asked);
  if (!found.ok) return found;
  const at = motionsUnder(found.value, rows);
  return done(
    Float64Array.from(pulls, (pull, i) => {
      const { from, to, along } = stringLine(system, pull);
      // up, square to the string
      const up = [-along[2] * along[0], -along[2] * along[1], 1 - along[2] ** 2];
      const size = Math.hypot(up[0], up[1], up[2]);
      const f = (frets[i][0] - to[0]) / (from[0] - to[0]);
      let change = 0;
      for (let q = 0; q < 3; q++) {
        const [crown, nut, fret] = [0, 1, 2].map((p) => at[6 * (3 * i + p) + q]);
        change += ((f * crown + (1 - f) * nut - fret) * up[q]) / size;
      }
      return change;
    }),
  );
}
