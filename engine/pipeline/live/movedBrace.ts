import { clipBrace, distanceToPolyline, type Polyline } from "#engine/geometry";
import type { BuildBrace } from "#engine/instrument";
import { done, failed, type Outcome } from "#engine/numerics";
import type { PanelRib } from "#engine/shells";
import { rib } from "../platePanels.ts";
import type { BraceMove, HeldBrace } from "./liveModel.ts";

/**
 * The brace of a move as a rib, cut at the plate's edge. Its tips keep their length: heights stay where they were from the nearer end.
 * Fails with 'brace-outside' where the line leaves the plate or is cut in pieces, with 'beyond-reach' where it leaves what is held.
 */
export function movedBrace(
  { build, region, reach }: Pick<HeldBrace, "build" | "region" | "reach">,
  { from, to, inset = 0 }: Omit<BraceMove, "brace">,
): Outcome<PanelRib> {
  const clipped = clipBrace(region, { from, to, inset });
  if (!clipped.ok) return failed("brace-outside", `"${build.name}" would not lie on the plate`);
  const [piece, second] = clipped.value;
  if (piece === undefined || second !== undefined)
    return failed("brace-outside", `"${build.name}" would be cut in pieces by a hole or by the plate's edge`);
  const path = Float64Array.of(...piece.from, ...piece.to);
  const off = Math.max(endsFrom(build.path, path), endsFrom(path, build.path));
  if (off > reach)
    return failed(
      "beyond-reach",
      `"${build.name}" would lie ${(1e3 * off).toFixed(0)} mm from where it was: it is followed up to ${(1e3 * reach).toFixed(0)} mm`,
    );
  return done(rib({ ...build, path, heights: movedHeights(build, piece.end - piece.start) }));
}

/** Greatest distance of an end of one path from another path. */
function endsFrom(ends: Polyline, other: Polyline): number {
  return Math.max(
    distanceToPolyline(other, ends[0]!, ends[1]!),
    distanceToPolyline(other, ends[2]!, ends[3]!),
  );
}

/** Rows [s, height] of a brace with a new length: up to the middle as far from the first end as before, then from the second. */
function movedHeights({ path, heights }: BuildBrace, length: number): [number, number][] {
  const was = Math.hypot(path[2]! - path[0]!, path[3]! - path[1]!);
  const rows = heights.map(([s, h]): [number, number] => [
    s <= 0.5 ? (s * was) / length : 1 - ((1 - s) * was) / length,
    h,
  ]);
  const inOrder = rows.filter(([s], i) => i === 0 || s > Math.max(...rows.slice(0, i).map(([t]) => t)));
  return inOrder;
}
