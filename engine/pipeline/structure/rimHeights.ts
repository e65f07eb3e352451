import { type BodyPlan, type DomeSpec, domeHeight } from "#engine/geometry";
import type { Build } from "#engine/instrument";

/** Depth between the inner faces at the rim, straight from x = 0 to x = length, domes counted from their mean at the edge. */
export interface RimHeights {
  readonly depthAtTail: number;
  readonly depthAtNeck: number;
  readonly length: number;
}

/**
 * The document states the depth on the centreline's two ends, where the domes stand a little off their mean height along
 * the edge; taken off here, the box is as deep there as stated.
 */
export function rimHeights({ body, top, back }: Build, plan: BodyPlan): RimHeights {
  const off = (x: number): number =>
    [top.dome, back.dome].reduce((sum, dome) => sum + domeHeight(dome, x, 0) - edgeHeight(plan, dome), 0);
  return {
    depthAtTail: body.depthAtTail - off(0),
    depthAtNeck: body.depthAtNeck - off(plan.length),
    length: plan.length,
  };
}

/** Mean height of a dome along the body's edge, m: the body frame's z = 0 for the top (by length of the outline). */
export function edgeHeight(plan: BodyPlan, dome: DomeSpec | null): number {
  if (dome === null) return 0;
  const p = plan.outlinePolygon;
  const n = p.length / 2;
  let sum = 0;
  let round = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const length = Math.hypot(p[2 * j]! - p[2 * i]!, p[2 * j + 1]! - p[2 * i + 1]!);
    sum +=
      (length * (domeHeight(dome, p[2 * i]!, p[2 * i + 1]!) + domeHeight(dome, p[2 * j]!, p[2 * j + 1]!))) /
      2;
    round += length;
  }
  return sum / round;
}
