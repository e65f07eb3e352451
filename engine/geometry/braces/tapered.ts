/** A brace of one height whose ends are scooped down to their tips. */
import type { HeightProfile } from "./brace.ts";

type Tapered = Pick<Extract<HeightProfile, { kind: "tapered" }>, "tipHeight" | "tipLength">;

/**
 * Height at s on a brace `length` long, m. Over each tip length the height rises from the tip height to the full height
 * on half a cosine wave, level at both ends of it; where both tips reach, the lower one counts.
 */
export function taperedHeight(profile: Tapered, height: number, length: number, s: number): number {
  const tip = (end: 0 | 1, distance: number): number => {
    const reach = profile.tipLength[end];
    if (distance >= reach) return height;
    const rise = (1 - Math.cos((Math.PI * Math.max(0, distance)) / reach)) / 2;
    return profile.tipHeight[end] + (height - profile.tipHeight[end]) * rise;
  };
  return Math.min(tip(0, s), tip(1, length - s));
}

/** What is wrong with the tips; null if nothing. */
export function taperedFault(profile: Tapered, height: number): string | null {
  for (const end of [0, 1] as const) {
    if (!(profile.tipHeight[end] >= 0 && profile.tipHeight[end] <= height)) {
      return `a tip height of ${profile.tipHeight[end]} m on a brace ${height} m high`;
    }
    if (!(profile.tipLength[end] >= 0 && Number.isFinite(profile.tipLength[end]))) {
      return `a tip length of ${profile.tipLength[end]} m`;
    }
  }
  return null;
}
