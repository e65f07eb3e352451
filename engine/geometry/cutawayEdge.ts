/**
 * The edge of a cutaway as four flanks of monotone curvature, each from one extremum of curvature to the next:
 *
 *        horn tip                 flank 1: outline -> tip        curvature rises
 *       2 .--.  1                 flank 2: tip -> scoop          falls: the spiral edge
 *       /     \  \                flank 3: scoop -> corner       rises, beside the neck
 *      |       |  | outline       flank 4: corner -> neck line   falls
 *    3 |  scoop
 *      '-.________ 4 neck line
 *
 * Each flank is made of spirals; along one, u from 0 at its flat to 1 at its tight end,
 *   curvature = flat + (tight - flat) S(m(u)),  S(v) = v^2 (3 - 2 v),  m(u) = u / (u + p (1 - u)).
 * S and m only rise, so curvature is monotone in arc length for any p > 0; p tells how late the spiral turns. A flank
 * that changes sign is two spirals that meet at curvature zero, level. Spirals are described by the angles they turn
 * through, which keeps every edge a sensible one: the heading rises to its peak behind the tip, falls to its least
 * beside the neck, and rises again to the neck line.
 */
import type { Point } from "./polygon.ts";
import { type SpiralSegment, segmentNodes } from "./spiralChain.ts";

/** Pieces of clothoid that stand for one spiral. */
const pieces = 24;

/** Where the edge begins or ends: place, heading (rad) and curvature (1/m). */
export interface EdgeEnd {
  readonly point: Point;
  readonly heading: number;
  readonly curvature: number;
}

/** Curvatures in 1/m (tip and corner convex, scoop as a positive number), angles in rad. */
export interface EdgeShape {
  readonly tip: number;
  readonly scoop: number;
  readonly corner: number;
  /** Greatest heading, behind the tip, and least, beside the neck. */
  readonly peakHeading: number;
  readonly leastHeading: number;
  /** Turned before the tip; from the peak heading to the scoop; from the least heading to the corner. */
  readonly turnToTip: number;
  readonly turnToScoop: number;
  readonly turnToCorner: number;
  /** How late each spiral turns (p above): to the tip, tip to peak, peak to scoop, scoop to least heading, least heading to corner. */
  readonly lateness: readonly number[];
}

interface Spiral {
  readonly length: number;
  readonly curvatures: Float64Array;
}

/** A spiral that turns through `turn` (rad, signed) between two curvatures; run from its tight end if told so. */
function spiral(flat: number, tight: number, late: number, turn: number, fromTight: boolean): Spiral {
  const curvatures = Float64Array.from({ length: pieces + 1 }, (_, i) => {
    const u = (fromTight ? pieces - i : i) / pieces;
    const m = u / (u + late * (1 - u));
    return flat + (tight - flat) * m * m * (3 - 2 * m);
  });
  let mean = 0;
  for (let i = 0; i < pieces; i++) mean += (curvatures[i] + curvatures[i + 1]) / (2 * pieces);
  return { length: turn / mean, curvatures };
}

/** The edge laid out from its start: its spirals in order, and the places that matter on it. */
export interface EdgeCurve {
  readonly spirals: readonly SpiralSegment[];
  readonly tip: Point;
  readonly scoop: Point;
  readonly corner: Point;
  readonly last: Point;
  /** Foremost place of the horn and deepest place of the scoop: where the edge runs square to the centreline. */
  readonly foremost: Point | null;
  readonly deepest: Point | null;
}

/** Lays the edge out from `start` so that it ends with the heading and curvature of `end` (its place is left to fall). */
export function edgeCurve(start: EdgeEnd, end: EdgeEnd, shape: EdgeShape): EdgeCurve {
  const { tip, scoop, corner, lateness } = shape;
  const toPeak = shape.peakHeading - start.heading - shape.turnToTip;
  const toLeast = shape.peakHeading - shape.leastHeading - shape.turnToScoop;
  const toEnd = end.heading - shape.leastHeading - shape.turnToCorner;
  const laid: SpiralSegment[] = [];
  const ends: Point[] = [];
  let foremost: Point | null = null;
  let deepest: Point | null = null;
  let point = start.point;
  let heading = start.heading;
  for (const { length, curvatures } of [
    spiral(start.curvature, tip, lateness[0], shape.turnToTip, false),
    spiral(0, tip, lateness[1], toPeak, true),
    spiral(0, -scoop, lateness[2], -shape.turnToScoop, false),
    spiral(0, -scoop, lateness[3], -toLeast, true),
    spiral(0, corner, lateness[4], shape.turnToCorner, false),
    spiral(end.curvature, corner, 1, toEnd, true),
  ]) {
    const segment: SpiralSegment = { start: point, heading, length, curvatures };
    const at = segmentNodes(segment);
    foremost ??= whereSquare(segment, at, true);
    deepest ??= whereSquare(segment, at, false);
    point = [at[3 * pieces], at[3 * pieces + 1]];
    heading = at[3 * pieces + 2];
    laid.push(segment);
    ends.push(point);
  }
  return { spirals: laid, tip: ends[0], scoop: ends[2], corner: ends[4], last: ends[5], foremost, deepest };
}

/** Where a spiral's heading first passes a right angle, rising or falling; null if it does not. */
function whereSquare(spiral: SpiralSegment, at: Float64Array, rising: boolean): Point | null {
  const h = spiral.length / pieces;
  for (let i = 0; i < pieces; i++) {
    const a = at[3 * i + 2] - Math.PI / 2;
    const b = at[3 * i + 5] - Math.PI / 2;
    if (rising ? !(a < 0 && b >= 0) : !(a > 0 && b <= 0)) continue;
    const k0 = spiral.curvatures[i];
    const dk = spiral.curvatures[i + 1] - k0;
    // a + h u (k0 + dk u / 2) = 0: Newton steps from the straight guess, on a piece that turns a few degrees.
    let u = a / (a - b);
    for (let step = 0; step < 8; step++) u -= (a + h * u * (k0 + (dk * u) / 2)) / (h * (k0 + dk * u));
    const end = segmentNodes({
      start: [at[3 * i], at[3 * i + 1]],
      heading: at[3 * i + 2],
      length: u * h,
      curvatures: Float64Array.of(k0, k0 + dk * u),
    });
    return [end[3], end[4]];
  }
  return null;
}
