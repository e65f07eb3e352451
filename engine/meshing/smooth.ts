/** Moves free nodes for better triangles, the topology staying as it is. */
import { type SizeField, sizeAt } from "./sizing.ts";

/** Triangles at each node: `list[start[p] .. start[p+1])`. */
interface Stars {
  readonly start: Uint32Array;
  readonly list: Uint32Array;
}

function nodeStars(nodes: number, triangles: Uint32Array): Stars {
  const start = new Uint32Array(nodes + 1);
  for (let e = 0; e < triangles.length; e++) start[triangles[e] + 1]++;
  for (let p = 0; p < nodes; p++) start[p + 1] += start[p];
  const next = start.slice(0, nodes);
  const list = new Uint32Array(triangles.length);
  for (let e = 0; e < triangles.length; e++) list[next[triangles[e]]++] = (e - (e % 3)) / 3;
  return { start, list };
}

/** Tangent of the smallest angle of a triangle, which is below a right angle: it rises with the angle. Negative if flipped. */
export function smallestTangent(xy: Float64Array, a: number, b: number, c: number): number {
  const ux = xy[2 * b] - xy[2 * a];
  const uy = xy[2 * b + 1] - xy[2 * a + 1];
  const vx = xy[2 * c] - xy[2 * a];
  const vy = xy[2 * c + 1] - xy[2 * a + 1];
  const ab2 = ux * ux + uy * uy;
  const ca2 = vx * vx + vy * vy;
  const bc2 = (vx - ux) * (vx - ux) + (vy - uy) * (vy - uy);
  // The smallest angle lies opposite the shortest edge.
  const short = Math.min(ab2, bc2, ca2);
  return (2 * (ux * vy - vx * uy)) / (ab2 + bc2 + ca2 - 2 * short);
}

/**
 * Passes of smoothing: each free node goes to the mean of its triangles' centroids, weighted by area over size^3 so
 * that a graded mesh stays graded. A move that would flip a triangle is not made. Alters xy in place.
 */
export function smooth(
  xy: Float64Array,
  held: Uint8Array,
  triangles: Uint32Array,
  field: SizeField,
  passes: number,
): void {
  const nodes = xy.length / 2;
  const stars = nodeStars(nodes, triangles);
  const size = new Float64Array(nodes);
  for (let p = 0; p < nodes; p++) size[p] = sizeAt(field, xy[2 * p], xy[2 * p + 1]) / field.size;
  const weight = new Float64Array(triangles.length / 3);
  for (let f = 0; f < weight.length; f++) {
    const e = 3 * f;
    const h = (size[triangles[e]] + size[triangles[e + 1]] + size[triangles[e + 2]]) / 3;
    weight[f] = 1 / (h * h * h);
  }
  for (let pass = 0; pass < passes; pass++) {
    for (let p = 0; p < nodes; p++) if (held[p] === 0) smoothAt(xy, triangles, stars, weight, p);
  }
}

/** One move of one node. `weight`: by triangle, what its area counts. */
function smoothAt(
  xy: Float64Array,
  triangles: Uint32Array,
  stars: Stars,
  weight: Float64Array,
  p: number,
): void {
  const { start, list } = stars;
  let sx = 0;
  let sy = 0;
  let sw = 0;
  for (let k = start[p]; k < start[p + 1]; k++) {
    const e = 3 * list[k];
    const a = 2 * triangles[e];
    const b = 2 * triangles[e + 1];
    const c = 2 * triangles[e + 2];
    const ax = xy[a];
    const ay = xy[a + 1];
    const bx = xy[b];
    const by = xy[b + 1];
    const cx = xy[c];
    const cy = xy[c + 1];
    const w = weight[list[k]] * Math.max(0, (bx - ax) * (cy - ay) - (cx - ax) * (by - ay));
    sx += w * (ax + bx + cx);
    sy += w * (ay + by + cy);
    sw += w;
  }
  if (sw > 0) moveIfGood(xy, triangles, stars, p, sx / (3 * sw), sy / (3 * sw));
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
 * Raises the worst angles: each free node of a triangle with an angle below the one of tangent `enough` searches round its
 * place for the best worst angle of its star. Alters xy in place.
 */
export function liftWorst(
  xy: Float64Array,
  held: Uint8Array,
  triangles: Uint32Array,
  enough: number,
  passes: number,
): void {
  const stars = nodeStars(xy.length / 2, triangles);
  for (let pass = 0; pass < passes; pass++) {
    let moved = false;
    for (let e = 0; e < triangles.length; e += 3) {
      if (smallestTangent(xy, triangles[e], triangles[e + 1], triangles[e + 2]) >= enough) continue;
      for (let v = 0; v < 3; v++) {
        const p = triangles[e + v];
        if (held[p] === 0 && searchAt(xy, triangles, stars, p)) moved = true;
      }
    }
    if (!moved) return;
  }
}

/** Pattern search in eight directions with a shrinking step. */
function searchAt(xy: Float64Array, triangles: Uint32Array, stars: Stars, p: number): boolean {
  const shortest = shortestSpoke(xy, triangles, stars, p);
  let moved = false;
  for (let step = 0.3 * shortest; step > 0.005 * shortest; ) {
    if (stepAt(xy, triangles, stars, p, step)) moved = true;
    else step /= 2;
  }
  return moved;
}

/** Moves node p by the step to the best of eight places if one is better than where it is. */
function stepAt(xy: Float64Array, triangles: Uint32Array, stars: Stars, p: number, step: number): boolean {
  const x = xy[2 * p];
  const y = xy[2 * p + 1];
  let best = worstTangentAt(xy, triangles, stars, p);
  let bestX = x;
  let bestY = y;
  for (let k = 0; k < 8; k++) {
    xy[2 * p] = x + step * Math.cos((k * Math.PI) / 4);
    xy[2 * p + 1] = y + step * Math.sin((k * Math.PI) / 4);
    const worst = worstTangentAt(xy, triangles, stars, p);
    if (worst > best + 1e-6) {
      best = worst;
      bestX = xy[2 * p];
      bestY = xy[2 * p + 1];
    }
  }
  xy[2 * p] = bestX;
  xy[2 * p + 1] = bestY;
  return bestX !== x || bestY !== y;
}

/** Length of the shortest edge at node p. */
function shortestSpoke(xy: Float64Array, triangles: Uint32Array, stars: Stars, p: number): number {
  let shortest = Number.POSITIVE_INFINITY;
  for (let k = stars.start[p]; k < stars.start[p + 1]; k++) {
    for (let v = 0; v < 3; v++) {
      const q = triangles[3 * stars.list[k] + v];
      const dx = xy[2 * q] - xy[2 * p];
      const dy = xy[2 * q + 1] - xy[2 * p + 1];
      if (q !== p) shortest = Math.min(shortest, dx * dx + dy * dy);
    }
  }
  return Math.sqrt(shortest);
}
