/** Turns away what no mesh can be made of, before any work is done. */
import {
  anticlockwise,
  pointInPolygon,
  polygonArea,
  polygonCrossings,
  selfCrossings,
} from "#engine/geometry";
import { done, failed, type Outcome } from "#engine/numerics";
import { withoutRepeats } from "./chains.ts";
import type { MeshOptions, PlanRegion } from "./planMesh.ts";

/** More nodes than this are refused. */
export const mostNodes = 200_000;
/** More lines than this are refused. */
const mostLines = 1000;

export interface CleanRegion {
  /** Outline and holes, all anticlockwise, without repeated points. */
  readonly loops: readonly Float64Array[];
  readonly lines: readonly Float64Array[];
}

function finite(values: ArrayLike<number>): boolean {
  for (let i = 0; i < values.length; i++) if (!Number.isFinite(values[i])) return false;
  return values.length % 2 === 0;
}

/** The region with plain faults refused: 'degenerate-region', 'outline-crosses-itself', 'hole-outside', 'holes-meet', 'bad-size',
 * 'size-too-small', 'too-many-lines', 'line-too-short'. */
export function checkRegion(region: PlanRegion, o: MeshOptions): Outcome<CleanRegion> {
  const sizes = [o.size, ...(o.sizeNear ?? []).flatMap((near) => [near.size])];
  if (!sizes.every((s) => Number.isFinite(s) && s > 0))
    return failed("bad-size", "the mesh size must be above zero");
  const reaches = (o.sizeNear ?? []).map((near) => near.reach);
  if (!reaches.every((r) => Number.isFinite(r) && r >= 0))
    return failed("bad-size", "a reach must not be below zero");
  const grading = o.grading ?? 0.25;
  if (!(grading >= 0.05 && grading <= 1))
    return failed("bad-size", `grading ${grading} is not within 0.05 to 1`);
  const all = [
    region.outline,
    ...region.holes,
    ...region.lines,
    ...(o.sizeNear ?? []).map((near) => near.points),
  ];
  if (!all.every(finite))
    return failed("degenerate-region", "a coordinate of the region is not a finite number");

  let span = 0;
  for (let i = 0; i < region.outline.length; i += 2) {
    const dx = region.outline[i] - region.outline[0];
    span = Math.max(span, Math.hypot(dx, region.outline[i + 1] - region.outline[1]));
  }
  const gap = 1e-9 * span;
  const loops: Float64Array[] = [];
  for (const [k, loop] of [region.outline, ...region.holes].entries()) {
    const name = k === 0 ? "the outline" : `hole ${k}`;
    const clean = withoutRepeats(loop, gap, true);
    if (clean.length < 6 || Math.abs(polygonArea(clean)) <= 1e-6 * span * gap) {
      return failed("degenerate-region", `${name} encloses no area`);
    }
    if (selfCrossings(clean).length > 0) {
      const [x, y] = selfCrossings(clean)[0];
      return failed(
        k === 0 ? "outline-crosses-itself" : "hole-crosses-itself",
        `${name} crosses itself at (${x}, ${y}) m`,
      );
    }
    loops.push(anticlockwise(clean));
  }
  const outline = loops[0];
  for (const [k, hole] of loops.slice(1).entries()) {
    for (let i = 0; i < hole.length; i += 2) {
      if (!pointInPolygon(outline, hole[i], hole[i + 1])) {
        return failed("hole-outside", `hole ${k + 1} is not wholly inside the outline`);
      }
    }
  }
  for (const [k, one] of loops.entries()) {
    for (const [m, two] of loops.entries()) {
      if (m <= k) continue;
      if (polygonCrossings(one, two).length > 0) {
        return failed(
          k === 0 ? "hole-outside" : "holes-meet",
          `hole ${m} crosses ${k === 0 ? "the outline" : `hole ${k}`}`,
        );
      }
      if (k > 0 && (pointInPolygon(one, two[0], two[1]) || pointInPolygon(two, one[0], one[1]))) {
        return failed("holes-meet", `holes ${k} and ${m} lie in each other`);
      }
    }
  }
  let area = 0;
  for (const [k, loop] of loops.entries()) area += (k === 0 ? 1 : -1) * Math.abs(polygonArea(loop));
  const estimate = area / ((Math.sqrt(3) / 2) * o.size ** 2);
  if (estimate > mostNodes) {
    return failed(
      "size-too-small",
      `size ${o.size} m asks for about ${Math.round(estimate)} nodes; ${mostNodes} are allowed`,
    );
  }
  if (region.lines.length > mostLines) {
    return failed("too-many-lines", `${region.lines.length} lines; ${mostLines} are allowed`);
  }
  const lines: Float64Array[] = [];
  for (const [k, line] of region.lines.entries()) {
    const clean = withoutRepeats(line, gap, false);
    if (clean.length < 4) return failed("line-too-short", `line ${k + 1} has no length`);
    lines.push(clean);
  }
  return done({ loops, lines });
}
