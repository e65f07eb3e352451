/** A brace whose height is given at points. */
import { piecewiseLinear } from "#engine/numerics";
import type { HeightProfile } from "./brace.ts";

type Pointed = Extract<HeightProfile, { kind: "points" }>;

/** Height at s, m: straight between the given points, level beyond them. */
export function pointedHeight(profile: Pointed, s: number): number {
  const knots = Float64Array.from(profile.heights, (row) => row[0]);
  const values = Float64Array.from(profile.heights, (row) => row[1]);
  return piecewiseLinear(knots, values, s);
}

/** What is wrong with the points; null if nothing. */
export function pointedFault(profile: Pointed): string | null {
  if (profile.heights.length === 0) return "a height profile without points";
  for (const [i, [s, h]] of profile.heights.entries()) {
    if (!(h >= 0 && Number.isFinite(h))) return `height ${h} m at ${s} m along the brace`;
    if (i > 0 && !(s > profile.heights[i - 1][0]))
      return `places along the brace must rise: ${s} m after ${profile.heights[i - 1][0]} m`;
  }
  return null;
}
