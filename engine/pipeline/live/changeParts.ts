import type { BraceMove, LiveChange, LiveFactor } from "./liveModel.ts";
import { holeParameter } from "./liveParameters.ts";

/** A change told apart: what the structure follows by a factor, braces laid elsewhere, the factor on the hole (1: as it is). */
export interface ChangeParts {
  readonly factors: readonly LiveFactor[];
  readonly moves: readonly BraceMove[];
  readonly hole: number;
}

export function changeParts(change: LiveChange): ChangeParts {
  const factors: LiveFactor[] = [];
  const moves: BraceMove[] = [];
  let hole = 1;
  for (const step of change) {
    if ("brace" in step) moves.push(step);
    else if (step.parameter === holeParameter.id) hole = step.factor;
    else factors.push(step);
  }
  return { factors, moves, hole };
}
