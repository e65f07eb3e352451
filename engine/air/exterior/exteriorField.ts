import type { Context, Outcome } from "#engine/numerics";
import type { ExteriorField, ExteriorOptions, ExteriorSurface } from "./exterior.ts";
import { exteriorAnswer } from "./exteriorAnswer.ts";
import { exteriorOperators } from "./exteriorOperators.ts";

/** `exteriorOperators`, then `exteriorAnswer`: for whoever has both the surface and what moves. Fails as they do. */
export function exteriorField(
  surface: ExteriorSurface,
  patterns: Float64Array,
  options: ExteriorOptions,
  ctx: Context,
): Outcome<ExteriorField> {
  const part = (from: number, share: number): Context => ({
    ...ctx,
    progress: (f) => ctx.progress(from + share * f),
  });
  const operators = exteriorOperators(surface, options, part(0, 0.7));
  if (!operators.ok) return operators;
  return exteriorAnswer(operators.value, patterns, part(0.7, 0.3));
}
