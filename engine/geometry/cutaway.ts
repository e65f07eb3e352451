import { done, type Outcome } from "#engine/numerics";
import type { CutawaySpec } from "./bodySpec.ts";
import type { PlaneCurve } from "./curve.ts";
import type { OutlineCurve } from "./outline.ts";
import type { CutawayReport } from "./plan.ts";

export function withCutaway(
  outline: OutlineCurve,
  spec: CutawaySpec | null,
): Outcome<{ curve: PlaneCurve; report: CutawayReport | null }> {
  if (spec === null) return done({ curve: outline.curve, report: null });
  throw new Error("cutaway in progress");
}
