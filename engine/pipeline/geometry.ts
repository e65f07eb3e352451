import { type BoardLayout, type BodyPlan, boardLayout, boardToBody } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";

/**
 * The instrument in plan. Everything is computed right-handed; a left-handed instrument is the mirror image, made only
 * where something is shown or cut, so that its modes are those of its right-handed twin to the last digit.
 */
export interface InstrumentGeometry {
  readonly plan: BodyPlan;
  /** Slots and strings in the board frame, and placed in the body frame. */
  readonly boardInOwnFrame: BoardLayout;
  readonly board: BoardLayout;
}

/** Lays the board out and places it on the plan that the check of the document made. Fails as geometry does. */
export function instrumentGeometry(build: Build, plan: BodyPlan): Outcome<InstrumentGeometry> {
  const layout = boardLayout(build.board);
  if (!layout.ok) return layout;
  const placed = boardToBody(layout.value, build.board, build.neck.joinFret, plan.length);
  if (!placed.ok) return placed;
  return done({ plan, boardInOwnFrame: layout.value, board: placed.value });
}
