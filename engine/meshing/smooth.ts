/** Moves free nodes for better triangles, the topology staying as it is. */
import type { SizeField } from "./sizing.ts";

/** Triangles at each node: `list[start[p] .. start[p+1])`. */
export interface Stars {
  readonly start: Uint32Array;
  readonly list: Uint32Array;
}

export function nodeStars(nodes: number, triangles: Uint32Array): Stars {
  const start = new Uint32Array(nodes + 1);
  for (const p of triangles) start[p + 1]++;
  for (let p = 0; p < nodes; p++) start[p + 1] += start[p];
  const next = start.slice(0, nodes);
  const list = new Uint32Array(triangles.length);
  for (let e = 0; e < triangles.length; e++) list[next[triangles[e]]++] = Math.floor(e / 3);
  return { start, list };
}

/** Smallest angle of a triangle, rad; negative if it is flipped. */
export function smallestAngle(xy: ArrayLike<number>, a: number, b: number, c: number): number {
  const ux = xy[2 * b] - xy[2 * a];
  const uy = xy[2 * b + 1] - xy[2 * a + 1];
  const vx = xy[2 * c] - xy[2 * a];
  const vy = xy[2 * c + 1] - xy[2 * a + 1];
  const twice = ux * vy - vx * uy;
  const ab2 = ux * ux + uy * uy;
  const ca2 = vx * vx + vy * vy;
  const bc2 = (vx - ux) * (vx - ux) + (vy - uy) * (vy - uy);
  // The smallest angle lies opposite the shortest edge.
  const short = Math.min(ab2, bc2, ca2);
  return Math.atan2(twice, (ab2 + bc2 + ca2 - 2 * short) / 2);
}

/**
 * Passes of smoothing: each free node goes to the mean of its triangles' centroids, weighted by area over size^3 so
 * that a graded mesh stays graded. A move that would flip a triangle is not made. Alters xy in place.
 */
export function smooth(
  xy: Float64Array,
  held: readonly boolean[],
  triangles: Uint32Array,
  field: SizeField,
  passes: number,
): void {
  const nodes = xy.length / 2;
  const stars = nodeStars(nodes, triangles);
  const size = new Float64Array(nodes);
  for (let p = 0; p < nodes; p++) size[p] = field.at(xy[2 * p], xy[2 * p + 1]) / field.size;
  for (let pass = 0; pass < passes; pass++) {
    for (let p = 0; p < nodes; p++) {
      if (held[p] || stars.start[p] === stars.start[p + 1]) continue;
      let sx = 0;
      let sy = 0;
      let sw = 0;
      for (let k = stars.start[p]; k < stars.start[p + 1]; k++) {
        const e = 3 * stars.list[k];
        const a = triangles[e];
        const b = triangles[e + 1];
        const c = triangles[e + 2];
        const gx = (xy[2 * a] + xy[2 * b] + xy[2 * c]) / 3;
        const gy = (xy[2 * a + 1] + xy[2 * b + 1] + xy[2 * c + 1]) / 3;
        const twice =
          (xy[2 * b] - xy[2 * a]) * (xy[2 * c + 1] - xy[2 * a + 1]) -
          (xy[2 * c] - xy[2 * a]) * (xy[2 * b + 1] - xy[2 * a + 1]);
        const h = (size[a] + size[b] + size[c]) / 3;
        const w = Math.max(0, twice) / (h * h * h);
        sx += w * gx;
        sy += w * gy;
        sw += w;
      }
      if (sw === 0) continue;
      moveIfGood(xy, triangles, stars, p, sx / sw, sy / sw);
    }
  }
}

function worstAt(xy: Float64Array, triangles: Uint32Array, stars: Stars, p: number): number {
  let worst = Number.POSITIVE_INFINITY;
  for (let k = stars.start[p]; k < stars.start[p + 1]; k++) {
    const e = 3 * stars.list[k];
    worst = Math.min(worst, smallestAngle(xy, triangles[e], triangles[e + 1], triangles[e + 2]));
  }
  return worst;
}

/** Tangent of the smallest angle, which is below a right angle: it rises with the angle and costs less. */
function smallestTangent(xy: Float64Array, a: number, b: number, c: number): number {
  const ux = xy[2 * b] - xy[2 * a];
  const uy = xy[2 * b + 1] - xy[2 * a + 1];
  const vx = xy[2 * c] - xy[2 * a];
  const vy = xy[2 * c + 1] - xy[2 * a + 1];
  const ab2 = ux * ux + uy * uy;
  const ca2 = vx * vx + vy * vy;
  const bc2 = (vx - ux) * (vx - ux) + (vy - uy) * (vy - uy);
  const short = Math.min(ab2, bc2, ca2);
  return (2 * (ux * vy - vx * uy)) / (ab2 + bc2 + ca2 - 2 * short);
}

function worstTangentAt(xy: Float64Array, triangles: Uint32Array, stars: Stars, p: number): number {
  let worst = Number.POSITIVE_INFINITY;
  for (let k = stars.start[p]; k < stars.start[p + 1]; k++) {
    const e = 3 * stars.list[k];
    const tangent = smallestTangent(xy, triangles[e], triangles[e + 1], triangles[e + 2]);
    if (!(tangent >= worst)) worst = tangent;
  }
  return worst;
}

/** An angle above this (0.35 rad) is good whatever it was before. */
const goodTangent = Math.tan(0.35);

function moveIfGood(
  xy: Float64Array,
  triangles: Uint32Array,
  stars: Stars,
  p: number,
  x: number,
  y: number,
): void {
  const x0 = xy[2 * p];
  const y0 = xy[2 * p + 1];
  xy[2 * p] = x;
  xy[2 * p + 1] = y;
  const now = worstTangentAt(xy, triangles, stars, p);
  if (now > goodTangent) return;
  xy[2 * p] = x0;
  xy[2 * p + 1] = y0;
  if (!(now > worstTangentAt(xy, triangles, stars, p))) return;
  xy[2 * p] = x;
  xy[2 * p + 1] = y;
}

/**
 * Raises the worst angles: each free node of a triangle with an angle below `enough` (rad) searches round its place
 * for the best worst angle of its star. Alters xy in place.
 */
export function liftWorst(
  xy: Float64Array,
  held: readonly boolean[],
  triangles: Uint32Array,
  enough: number,
  passes: number,
): void {
  const stars = nodeStars(xy.length / 2, triangles);
  for (let pass = 0; pass < passes; pass++) {
    let moved = false;
    for (let e = 0; e < triangles.length; e += 3) {
      if (smallestAngle(xy, triangles[e], triangles[e + 1], triangles[e + 2]) >= enough) continue;
      for (let v = 0; v < 3; v++) {
        const p = triangles[e + v];
        if (!held[p] && searchAt(xy, triangles, stars, p)) moved = true;
      }
    }
    if (!moved) return;
  }
}

/** Pattern search in eight directions with a shrinking step. */
function searchAt(xy: Float64Array, triangles: Uint32Array, stars: Stars, p: number): boolean {
  let best = worstAt(xy, triangles, stars, p);
  let shortest = Number.POSITIVE_INFINITY;
  for (let k = stars.start[p]; k < stars.start[p + 1]; k++) {
    for (let v = 0; v < 3; v++) {
      const q = triangles[3 * stars.list[k] + v];
      if (q !== p)
        shortest = Math.min(shortest, Math.hypot(xy[2 * q] - xy[2 * p], xy[2 * q + 1] - xy[2 * p + 1]));
    }
  }
  let moved = false;
  for (let step = 0.3 * shortest; step > 0.005 * shortest; ) {
    const [x, y] = [xy[2 * p], xy[2 * p + 1]];
    let [bx, by] = [x, y];
    for (let k = 0; k < 8; k++) {
      xy[2 * p] = x + step * Math.cos((k * Math.PI) / 4);
      xy[2 * p + 1] = y + step * Math.sin((k * Math.PI) / 4);
      const worst = worstAt(xy, triangles, stars, p);
      if (worst > best + 1e-6) {
        best = worst;
        [bx, by] = [xy[2 * p], xy[2 * p + 1]];
      }
    }
    xy[2 * p] = bx;
    xy[2 * p + 1] = by;
    if (bx === x && by === y) step /= 2;
    else moved = true;
  }
  return moved;
}
