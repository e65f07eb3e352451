import { memo } from "react";
import type { FairnessReport } from "#engine/geometry";
import { onSheet, type SheetLayout } from "./sheetLayout.ts";

/** Length of a tooth where the edge bends with a radius of a tenth of a metre, m: a hole is a smaller thing than a body. */
const toothAtTenth = { outline: 0.022, hole: 0.006 } as const;
/** Every so many samples one tooth. */
const stride = 4;
/** A tooth longer than this says no more, m. */
const longest = 0.05;

/** The curvature comb: a tooth square to the edge, as long as the edge is bent, outward where it is convex. */
export const CombMarks = memo(function CombMarks({
  of,
  comb,
  layout,
}: {
  readonly of: "outline" | "hole";
  readonly comb: FairnessReport["comb"];
  readonly layout: SheetLayout;
}) {
  const n = comb.curvature.length;
  let teeth = "";
  let crest = "";
  for (let i = 0; i < n; i++) {
    const [tipX, tipY] = tooth(comb, i, toothAtTenth[of]);
    const [p, q] = onSheet(layout, "plan", [tipX, tipY]);
    crest += `${i === 0 ? "M" : "L"}${p.toFixed(2)} ${q.toFixed(2)}`;
    if (i % stride !== 0) continue;
    const [a, b] = onSheet(layout, "plan", [comb.points[2 * i]!, comb.points[2 * i + 1]!]);
    teeth += `M${a.toFixed(2)} ${b.toFixed(2)}L${p.toFixed(2)} ${q.toFixed(2)}`;
  }
  return (
    <g className="comb">
      <path className="ink-comb" d={teeth} />
      <path className="ink-comb-crest" d={`${crest}Z`} />
    </g>
  );
});

function tooth(
  { points, curvature }: FairnessReport["comb"],
  i: number,
  atTenth: number,
): readonly [number, number] {
  const n = curvature.length;
  const [before, after] = [(i - 1 + n) % n, (i + 1) % n];
  const [dx, dy] = [
    points[2 * after]! - points[2 * before]!,
    points[2 * after + 1]! - points[2 * before + 1]!,
  ];
  const length = Math.hypot(dx, dy);
  const long = Math.max(-longest, Math.min(longest, 0.1 * atTenth * curvature[i]!));
  // the outline runs anticlockwise: outward is to the right of its way
  return [points[2 * i]! + (long * dy) / length, points[2 * i + 1]! - (long * dx) / length];
}
