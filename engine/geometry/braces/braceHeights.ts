/** Height of a brace from end to end, for any of its profiles. */
import { done, failed, type Outcome } from "#engine/numerics";
import type { Brace, HeightProfile } from "./brace.ts";
import { pointedFault, pointedHeight } from "./pointed.ts";
import { scallopedFault, scallopedHeight } from "./scalloped.ts";
import { taperedFault, taperedHeight } from "./tapered.ts";

/** Height at s (m from the clipped brace's start) on a brace `length` long, m. */
export function braceHeight(profile: HeightProfile, height: number, length: number, s: number): number {
  switch (profile.kind) {
    case "uniform":
      return height;
    case "points":
      return pointedHeight(profile, s);
    case "tapered":
      return taperedHeight(profile, height, length, s);
    case "scalloped":
      return scallopedHeight(profile, height, length, s);
  }
}

/**
 * The profile of a brace `length` long as [s, height] rows from 0 to length: corners of the profile kept, and steps of
 * at most `step` m between, so that straight lines between rows stay within (step/tip length)^2 of the height.
 * Fails with 'brace-size'.
 */
export function braceHeights(
  brace: Pick<Brace, "width" | "height" | "section" | "profile">,
  length: number,
  step = 0.005,
): Outcome<readonly (readonly [s: number, height: number])[]> {
  const fault = braceFault(brace, length);
  if (fault !== null) return failed("brace-size", fault);
  const corners = [0, ...profileCorners(brace.profile, length).filter((s) => s > 0 && s < length), length];
  const stations = [...new Set(corners)].sort((a, b) => a - b);
  const rows: [number, number][] = [];
  const add = (s: number): void => {
    rows.push([s, braceHeight(brace.profile, brace.height, length, s)]);
  };
  for (let i = 0; i + 1 < stations.length; i++) {
    const span = stations[i + 1] - stations[i];
    const cuts = Math.max(1, Math.ceil(span / step - 1e-9));
    for (let c = 0; c < cuts; c++) add(stations[i] + (c / cuts) * span);
  }
  add(length);
  return done(rows);
}

function profileCorners(profile: HeightProfile, length: number): readonly number[] {
  switch (profile.kind) {
    case "uniform":
      return [];
    case "points":
      return profile.heights.map((row) => row[0]);
    case "tapered":
      return [profile.tipLength[0], length - profile.tipLength[1]];
    case "scalloped":
      return [
        profile.tipLength[0],
        length - profile.tipLength[1],
        profile.valleyAt - profile.valleyLength / 2,
        profile.valleyAt,
        profile.valleyAt + profile.valleyLength / 2,
      ];
  }
}

function braceFault(
  brace: Pick<Brace, "width" | "height" | "section" | "profile">,
  length: number,
): string | null {
  if (!(brace.width > 0 && Number.isFinite(brace.width))) return `a brace ${brace.width} m wide`;
  if (!(brace.height > 0 && Number.isFinite(brace.height))) return `a brace ${brace.height} m high`;
  if (!(length > 0)) return `a brace ${length} m long`;
  const { section, profile } = brace;
  if (section.kind !== "rectangular" && !(section.wall >= 0 && section.wall <= 1)) {
    return `walls of ${section.wall} of the height; from 0 to 1 is possible`;
  }
  if (profile.kind === "points") return pointedFault(profile);
  if (profile.kind === "tapered") return taperedFault(profile, brace.height);
  if (profile.kind === "scalloped") return scallopedFault(profile, brace.height, length);
  return null;
}
