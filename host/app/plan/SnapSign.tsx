import type { Point } from "#engine/geometry";
import { SnapMark } from "./HandleMarks.tsx";
import type { Place } from "./sheetLayout.ts";
import type { SnapTarget } from "./snap.ts";

/** What the hand has come to rest on, as far as the window reaches. */
export function SnapSign({
  at,
  target,
  screen,
}: {
  readonly at: Point;
  readonly target: SnapTarget;
  readonly screen: (at: Point) => Place;
}) {
  if (target.kind === "point") return <SnapMark from={null} to={null} at={screen(at)} words={target.words} />;
  const length = Math.hypot(...target.along);
  const far = (by: number): Place =>
    screen([target.at[0] + (by * target.along[0]) / length, target.at[1] + (by * target.along[1]) / length]);
  return <SnapMark from={far(-1)} to={far(1)} at={screen(at)} words={target.words} />;
}
