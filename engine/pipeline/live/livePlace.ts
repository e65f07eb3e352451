import { type Context, done, failed, type Outcome } from "#engine/numerics";
import { laidTerm, type WeighedTerm } from "#engine/shells";
import type { BraceMove, LiveChange, LiveFactor, LiveModel } from "./liveModel.ts";
import { holeParameter } from "./liveParameters.ts";
import { movedBrace } from "./movedBrace.ts";

/** A change as the reduced model takes it. */
export interface LivePlace {
  /** Factors of the structure; that a brace was taken off where it lay is one. */
  readonly point: readonly LiveFactor[];
  /** Braces laid elsewhere. */
  readonly laid: readonly WeighedTerm[];
  /** On the hole's length and breadth, 1: as it is. */
  readonly hole: number;
}

/** Fails with 'brace-not-held', and as `movedBrace` and `laidTerm` do. */
export function livePlace(model: LiveModel, change: LiveChange, { kernels }: Context): Outcome<LivePlace> {
  const { factors, moves, hole } = changeParts(change);
  const [move, second] = moves;
  if (move === undefined) return done({ point: factors, laid: [], hole });
  const { held } = model;
  const other = second ?? move;
  if (held === null || other.brace !== held.brace || second !== undefined)
    return failed("brace-not-held", `${other.brace} is not held: it cannot be moved`);
  const rib = movedBrace(held, move);
  if (!rib.ok) return rib;
  const laid = laidTerm(held.rib, rib.value, kernels);
  if (!laid.ok) return laid;
  return done({ point: [...factors, { parameter: held.brace, factor: 0 }], laid: [laid.value], hole });
}

/** A change told apart: what the structure follows by a factor, braces laid elsewhere, the factor on the hole. */
export function changeParts(change: LiveChange): {
  readonly factors: readonly LiveFactor[];
  readonly moves: readonly BraceMove[];
  readonly hole: number;
} {
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
