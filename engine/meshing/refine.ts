/**
 * Finds where triangles are too large or too sharp and what would mend them (Delaunay refinement in batches: Ruppert 1995,
 * Chew 1993, from memory): a circumcentre is put in, unless it would come too near a held edge, which is then halved.
 */
import { type HeldStars, heldStars } from "./heldStars.ts";
import { type SizeField, sizeAt } from "./sizing.ts";
import { smallestTangent } from "./smooth.ts";
import { after, before, type TriangleNet } from "./triangleNet.ts";
import type { Draft } from "./triangulate.ts";

/** Longest edge allowed, in sizes. */
const longest = 1.6;

/** What is to be changed; half-edges and triangles by their numbers in the net as it was looked at. */
export interface Changes {
  /** New nodes: x, y and the distance to keep from other new ones, 3 by node; and the triangle each was found from. */
  readonly insert: number[];
  readonly from: number[];
  /** By half-edge: 1 for those to halve, the twin not marked. */
  readonly halve: Uint8Array;
  /** Free nodes to take out. */
  readonly remove: number[];
}

/** Tangents of the angle below which a triangle is bad, and of 0.6 of it. */
export interface Sharpness {
  readonly bad: number;
  readonly worse: number;
}

export function sharpness(angle: number): Sharpness {
  return { bad: Math.tan(angle), worse: Math.tan(0.6 * angle) };
}

/** Looks at every triangle and notes what would mend it. */
export function proposeChanges(
  draft: Draft,
  net: TriangleNet,
  field: SizeField,
  sharp: Sharpness,
  mayRemove: boolean,
): Changes {
  const { xy } = draft;
  const stars = heldStars(net, xy);
  const changes: Changes = { insert: [], from: [], halve: new Uint8Array(net.twins.length), remove: [] };
  for (let e = 0; e < net.triangles.length; e += 3) {
    if (isBad(net, xy, field, e, sharp.bad)) mend(draft, net, field, sharp, mayRemove, stars, e, changes);
  }
  halveTogether(net, xy, stars, changes.halve);
  return changes;
}

export function nothingToDo(changes: Changes): boolean {
  return changes.insert.length === 0 && changes.remove.length === 0 && !changes.halve.includes(1);
}

/** Whether the triangle has too small an angle or an edge that may be too long. */
function isBad(net: TriangleNet, xy: Float64Array, field: SizeField, e: number, tangent: number): boolean {
  const a = net.triangles[e];
  const b = net.triangles[e + 1];
  const c = net.triangles[e + 2];
  if (smallestTangent(xy, a, b, c) < tangent) return true;
  const gx = (xy[2 * a] + xy[2 * b] + xy[2 * c]) / 3;
  const gy = (xy[2 * a + 1] + xy[2 * b + 1] + xy[2 * c + 1]) / 3;
  const most = longest * sizeAt(field, gx, gy);
  return edgeLength(xy, a, b) > most || edgeLength(xy, b, c) > most || edgeLength(xy, c, a) > most;
}

/** Notes what would mend the triangle of half-edge e = 3 f. */
function mend(
  draft: Draft,
  net: TriangleNet,
  field: SizeField,
  sharp: Sharpness,
  mayRemove: boolean,
  stars: HeldStars,
  e: number,
  changes: Changes,
): void {
  const { xy, held } = draft;
  const { triangles: t, fixed } = net;
  const a = t[e];
  const b = t[e + 1];
  const c = t[e + 2];
  const tangent = smallestTangent(xy, a, b, c);
  const gx = (xy[2 * a] + xy[2 * b] + xy[2 * c]) / 3;
  const gy = (xy[2 * a + 1] + xy[2 * b + 1] + xy[2 * c + 1]) / 3;
  const h = sizeAt(field, gx, gy);
  let long = e;
  let short = e;
  let tooLarge = false;
  for (let k = e; k < e + 3; k++) {
    const length = edgeLength(xy, t[k], t[after(k)]);
    if (length > edgeLength(xy, t[long], t[after(long)])) long = k;
    if (length < edgeLength(xy, t[short], t[after(short)])) short = k;
    // The length of a held edge that begins at a sharp meeting is not ruled by the field.
    const free = fixed[k] === 0 || (stars.sharp[t[k]] === 0 && stars.sharp[t[after(k)]] === 0);
    if (length > longest * h && free) tooLarge = true;
  }
  if (tangent >= sharp.bad && !tooLarge) return;
  // Between two held edges the sharp angle is given: nothing mends it.
  if (fixed[after(short)] === 1 && fixed[before(short)] === 1) return;
  if (!tooLarge && mayRemove) {
    const p = held[t[after(short)]] === 0 ? t[after(short)] : t[short];
    if (held[p] === 0 && edgeLength(xy, t[short], t[after(short)]) < 0.6 * h) {
      changes.remove.push(p);
      return;
    }
    const top = t[before(long)];
    const height = twiceArea(xy, a, b, c) / edgeLength(xy, t[long], t[after(long)]);
    if (fixed[long] === 1 && height < 0.5 * h && held[top] === 0) {
      changes.remove.push(top);
      return;
    }
  }
  const ux = xy[2 * b] - xy[2 * a];
  const uy = xy[2 * b + 1] - xy[2 * a + 1];
  const vx = xy[2 * c] - xy[2 * a];
  const vy = xy[2 * c + 1] - xy[2 * a + 1];
  const d = 2 * (ux * vy - uy * vx);
  const u2 = ux * ux + uy * uy;
  const v2 = vx * vx + vy * vy;
  const rx = (vy * u2 - uy * v2) / d;
  const ry = (ux * v2 - vx * u2) / d;
  const x = xy[2 * a] + rx;
  const y = xy[2 * a + 1] + ry;
  const blocked = blockingEdge(net, xy, stars.edges, gx, gy, x, y);
  if (blocked >= 0) {
    const half = edgeLength(xy, t[blocked], t[after(blocked)]) / 2;
    if (half > 0.3 * h || (tangent < sharp.worse && half > 0.05 * h)) changes.halve[blocked] = 1;
  } else if (Number.isFinite(x) && Number.isFinite(y)) {
    changes.insert.push(x, y, 0.7 * Math.min(h, Math.sqrt(rx * rx + ry * ry)));
    changes.from.push(e / 3);
  }
}

/** Twice the area of the triangle (x, y), u, v: its sign tells the side. */
function side(x: number, y: number, ux: number, uy: number, vx: number, vy: number): number {
  return (ux - x) * (vy - y) - (uy - y) * (vx - x);
}

/** Edges of one length at a sharp meeting are halved together, so that their ends stay at one distance from it. */
function halveTogether(net: TriangleNet, xy: Float64Array, stars: HeldStars, halve: Uint8Array): void {
  const t = net.triangles;
  const queue: number[] = [];
  for (let k = 0; k < stars.edges.length; k++) if (halve[stars.edges[k]] === 1) queue.push(stars.edges[k]);
  for (let e = queue.pop(); e !== undefined; e = queue.pop()) {
    const length = edgeLength(xy, t[e], t[after(e)]);
    for (let end = 0; end < 2; end++) {
      const p = end === 0 ? t[e] : t[after(e)];
      if (stars.sharp[p] === 0) continue;
      for (let k: number = stars.start[p]; k < stars.start[p + 1]; k++) {
        const other = stars.list[k];
        const apart = edgeLength(xy, t[other], t[after(other)]) - length;
        if (halve[other] === 1 || Math.abs(apart) > 0.05 * length) continue;
        halve[other] = 1;
        queue.push(other);
      }
    }
  }
}

function edgeLength(xy: Float64Array, p: number, q: number): number {
  const dx = xy[2 * q] - xy[2 * p];
  const dy = xy[2 * q + 1] - xy[2 * p + 1];
  return Math.sqrt(dx * dx + dy * dy);
}

/** The first held edge that hides (x, y) from (gx, gy) or has it nearly within its diameter circle; -1 if none. */
function blockingEdge(
  net: TriangleNet,
  xy: Float64Array,
  edges: Uint32Array,
  gx: number,
  gy: number,
  x: number,
  y: number,
): number {
  for (let k = 0; k < edges.length; k++) {
    const e = edges[k];
    if (blocks(xy, net.triangles[e], net.triangles[after(e)], gx, gy, x, y)) return e;
  }
  return -1;
}

/** Whether the edge a-b meets the segment from (gx, gy) to (x, y), or has (x, y) within 0.9 of its half length. */
function blocks(
  xy: Float64Array,
  a: number,
  b: number,
  gx: number,
  gy: number,
  x: number,
  y: number,
): boolean {
  const ax = xy[2 * a];
  const ay = xy[2 * a + 1];
  const bx = xy[2 * b];
  const by = xy[2 * b + 1];
  const mx = x - (ax + bx) / 2;
  const my = y - (ay + by) / 2;
  const wx = (ax - bx) / 2;
  const wy = (ay - by) / 2;
  if (mx * mx + my * my < 0.81 * (wx * wx + wy * wy)) return true;
  return (
    side(ax, ay, bx, by, gx, gy) > 0 !== side(ax, ay, bx, by, x, y) > 0 &&
    side(gx, gy, x, y, ax, ay) > 0 !== side(gx, gy, x, y, bx, by) > 0
  );
}

function twiceArea(xy: Float64Array, a: number, b: number, c: number): number {
  return side(xy[2 * a], xy[2 * a + 1], xy[2 * b], xy[2 * b + 1], xy[2 * c], xy[2 * c + 1]);
}
