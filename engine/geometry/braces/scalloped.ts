/** A tapered brace with one valley. */
import type { HeightProfile } from "./brace.ts";
import { taperedFault, taperedHeight } from "./tapered.ts";

type Scalloped = Extract<HeightProfile, { kind: "scalloped" }>;

/**
 * Height at s on a brace `length` long, m: the tapered height, and inside the valley's length no more than a cosine
 * wave that falls from the full height to `valleyHeight` at `valleyAt` and back.
 */
export function scallopedHeight(profile: Scalloped, height: number, length: number, s: number): number {
  const tapered = taperedHeight(profile, height, length, s);
  const fromMiddle = Math.abs(s - profile.valleyAt) / (profile.valleyLength / 2);
  if (fromMiddle >= 1) return tapered;
  const dip = (1 + Math.cos(Math.PI * fromMiddle)) / 2;
  return Math.min(tapered, height - (height - profile.valleyHeight) * dip);
}

/** What is wrong with tips or valley; null if nothing. */
export function scallopedFault(profile: Scalloped, height: number, length: number): string | null {
  if (!(profile.valleyHeight >= 0 && profile.valleyHeight <= height)) {
    return `a valley ${profile.valleyHeight} m high in a brace ${height} m high`;
  }
  if (!(profile.valleyLength > 0)) return `a valley ${profile.valleyLength} m long`;
  if (!(profile.valleyAt >= 0 && profile.valleyAt <= length)) {
    return `a valley ${profile.valleyAt} m along a brace ${length.toFixed(4)} m long`;
  }
  return taperedFault(profile, height);
}
