/**
 * A closed chain of segments whose curvature runs straight between nodes equally spaced along each segment: pieces of
 * clothoid, so the curvature is continuous and known exactly.
 *
 *   heading(s) = heading0 + integral of curvature,   (x, y)(s) = (x0, y0) + integral of (cos, sin)(heading)
 */
import type { PlaneCurve } from "./curve.ts";
import type { Point } from "./polygon.ts";

/** One segment: where it starts, its heading there (rad), length (m) and curvature at its nodes (pieces + 1, 1/m). */
export interface SpiralSegment {
  readonly start: Point;
  readonly heading: number;
  readonly length: number;
  readonly curvatures: Float64Array;
}

const nodes = [0.06943184420297371, 0.33000947820757187, 0.6699905217924281, 0.9305681557970262];
const weights = [0.17392742256872692, 0.3260725774312731, 0.3260725774312731, 0.17392742256872692];

/** Positions and headings at every node of a segment: [x, y, heading] by node. */
export function segmentNodes(segment: SpiralSegment): Float64Array {
  const pieces = segment.curvatures.length - 1;
  const h = segment.length / pieces;
  const out = new Float64Array(3 * (pieces + 1));
  let [x, y] = segment.start;
  let heading = segment.heading;
  out.set([x, y, heading]);
  for (let i = 0; i < pieces; i++) {
    const k0 = segment.curvatures[i];
    const dk = segment.curvatures[i + 1] - k0;
    for (let g = 0; g < 4; g++) {
      const u = nodes[g];
      const angle = heading + h * u * (k0 + (dk * u) / 2);
      x += h * weights[g] * Math.cos(angle);
      y += h * weights[g] * Math.sin(angle);
    }
    heading += h * (k0 + dk / 2);
    out.set([x, y, heading], 3 * (i + 1));
  }
  return out;
}

/**
 * How the end of a segment (x, y, heading) answers to its curvatures, its length and its start heading.
 * Returns 3 rows of pieces + 3 numbers: one for each curvature node, then length, then start heading.
 */
export function segmentJacobian(segment: SpiralSegment, at: Float64Array): Float64Array {
  const pieces = segment.curvatures.length - 1;
  const columns = pieces + 3;
  const h = segment.length / pieces;
  const out = new Float64Array(3 * columns);
  const endX = at[3 * pieces];
  const endY = at[3 * pieces + 1];
  for (let i = 0; i < pieces; i++) {
    const k0 = segment.curvatures[i];
    const dk = segment.curvatures[i + 1] - k0;
    for (let g = 0; g < 4; g++) {
      const u = nodes[g];
      const turned = h * u * (k0 + (dk * u) / 2);
      const angle = at[3 * i + 2] + turned;
      const w = h * weights[g];
      const left = -Math.sin(angle) * w;
      const up = Math.cos(angle) * w;
      // A node's curvature turns what follows by the area under its hat function.
      const ofStart = h * (u - (u * u) / 2);
      const ofEnd = (h * u * u) / 2;
      out[i] += left * ofStart;
      out[columns + i] += up * ofStart;
      out[i + 1] += left * ofEnd;
      out[columns + i + 1] += up * ofEnd;
      const sinceStart = (angle - segment.heading) / segment.length;
      out[pieces + 1] += left * sinceStart;
      out[columns + pieces + 1] += up * sinceStart;
    }
    const restX = endX - at[3 * (i + 1)];
    const restY = endY - at[3 * (i + 1) + 1];
    for (const node of [i, i + 1]) {
      out[node] -= (restY * h) / 2;
      out[columns + node] += (restX * h) / 2;
      out[2 * columns + node] += h / 2;
    }
  }
  const dx = endX - segment.start[0];
  const dy = endY - segment.start[1];
  out[pieces + 1] += dx / segment.length;
  out[columns + pieces + 1] += dy / segment.length;
  out[2 * columns + pieces + 1] = (at[3 * pieces + 2] - segment.heading) / segment.length;
  out[pieces + 2] = -dy;
  out[columns + pieces + 2] = dx;
  out[2 * columns + pieces + 2] = 1;
  return out;
}

/**
 * The chain as a curve of arc length. Each piece is cut so that it turns by less than 0.15 rad, which keeps the curve
 * within about 1e-10 of its size of the exact clothoid. Segments must follow on one another; closed if told so.
 */
export function chainCurve(segments: readonly SpiralSegment[], closed: boolean): PlaneCurve {
  const knots: number[] = [0];
  const points: number[] = [];
  const tangents: number[] = [];
  const seconds: number[] = [];
  const addJet = (x: number, y: number, heading: number, curvature: number): void => {
    const cos = Math.cos(heading);
    const sin = Math.sin(heading);
    points.push(x, y);
    tangents.push(cos, sin);
    seconds.push(-curvature * sin, curvature * cos);
  };
  let from = 0;
  for (const [index, segment] of segments.entries()) {
    const fine = refinedSegment(segment);
    const at = segmentNodes(fine);
    const pieces = fine.curvatures.length - 1;
    for (let i = index === 0 ? 0 : 1; i <= pieces; i++) {
      if (i > 0) knots.push(from + (i * fine.length) / pieces);
      addJet(at[3 * i], at[3 * i + 1], at[3 * i + 2], fine.curvatures[i]);
    }
    from += fine.length;
  }
  if (closed) {
    for (const list of [points, tangents, seconds]) {
      list[list.length - 2] = list[0];
      list[list.length - 1] = list[1];
    }
  }
  return {
    closed,
    knots: Float64Array.from(knots),
    points: Float64Array.from(points),
    tangents: Float64Array.from(tangents),
    seconds: Float64Array.from(seconds),
  };
}

function refinedSegment(segment: SpiralSegment): SpiralSegment {
  const pieces = segment.curvatures.length - 1;
  const h = segment.length / pieces;
  const hardest = segment.curvatures.reduce((most, k) => Math.max(most, Math.abs(k)), 0);
  const cuts = Math.max(1, Math.ceil((hardest * h) / 0.15));
  if (cuts === 1) return segment;
  const curvatures = new Float64Array(pieces * cuts + 1);
  for (let i = 0; i < pieces; i++) {
    for (let c = 0; c <= cuts; c++) {
      curvatures[i * cuts + c] =
        segment.curvatures[i] + (c / cuts) * (segment.curvatures[i + 1] - segment.curvatures[i]);
    }
  }
  return { ...segment, curvatures };
}
