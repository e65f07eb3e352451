import { type BodyPlan, domeHeight } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { edgeHeight } from "../structure/rimHeights.ts";

type Triple = readonly [x: number, y: number, z: number];

/**
 * The player's ear, from the middle of the saddle: towards the neck, up past the bass side's edge, and as far behind the
 * top's plane as a head leans (common practice, no source).
 */
const earFromSaddle: Triple = [0.15, 0.5, -0.05];

/** A plan place on the top's mid-surface, body frame. */
export function onTop({ top }: Build, plan: BodyPlan, x: number, y: number): Triple {
  return [x, y, domeHeight(top.dome, x, y) - edgeHeight(plan, top.dome)];
}

/** Middle of the saddle on the top's mid-surface. */
export function saddlePlace(build: Build, plan: BodyPlan): Triple {
  const [a, b] = build.bridge.saddleLine;
  return onTop(build, plan, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2);
}

/** Where the sound is heard: 1 m over the saddle along the top's normal, and the player's ear. 3 by point. */
export function listeners([x, y, z]: Triple): Float64Array {
  const [dx, dy, dz] = earFromSaddle;
  return Float64Array.of(x, y, z + 1, x + dx, y + dy, z + dz);
}
