/**
 * Adds and removes nodes where triangles are too large or too sharp (Delaunay refinement in batches: Ruppert 1995,
 * Chew 1993, from memory): a circumcentre is put in, unless it would come too near a held edge, which is then halved.
 */

import { sharpAngle } from "./features.ts";
import type { SizeField } from "./sizing.ts";
import { smallestAngle } from "./smooth.ts";
import { type Draft, edgeKey } from "./triangulate.ts";

/** Longest edge allowed, in sizes. */
const longest = 1.6;

interface Changes {
  readonly insert: { x: number; y: number; room: number }[];
  /** Edge name -> leg. */
  readonly halve: Map<number, readonly [number, number]>;
  readonly remove: Set<number>;
}

function circumcentre(xy: ArrayLike<number>, a: number, b: number, c: number): [number, number] {
  const [ax, ay] = [xy[2 * a], xy[2 * a + 1]];
  const [bx, by] = [xy[2 * b] - ax, xy[2 * b + 1] - ay];
  const [cx, cy] = [xy[2 * c] - ax, xy[2 * c + 1] - ay];
  const d = 2 * (bx * cy - by * cx);
  const b2 = bx * bx + by * by;
  const c2 = cx * cx + cy * cy;
  return [ax + (cy * b2 - by * c2) / d, ay + (bx * c2 - cx * b2) / d];
}

/** Twice the area of the triangle (x, y), u, v: its sign tells the side. */
function side(x: number, y: number, ux: number, uy: number, vx: number, vy: number): number {
  return (ux - x) * (vy - y) - (uy - y) * (vx - x);
}

/** Whether the segment p-q meets the open segment a-b. */
function separates(
  xy: ArrayLike<number>,
  a: number,
  b: number,
  px: number,
  py: number,
  qx: number,
  qy: number,
): boolean {
  const ax = xy[2 * a];
  const ay = xy[2 * a + 1];
  const bx = xy[2 * b];
  const by = xy[2 * b + 1];
  return (
    side(ax, ay, bx, by, px, py) > 0 !== side(ax, ay, bx, by, qx, qy) > 0 &&
    side(px, py, qx, qy, ax, ay) > 0 !== side(px, py, qx, qy, bx, by) > 0
  );
}

/** Looks at every triangle and notes what would mend it. `sharp` = angle below which a triangle is bad, rad. */
export function proposeChanges(
  draft: Draft,
  triangles: Uint32Array,
  field: SizeField,
  sharp: number,
  mayRemove: boolean,
): Changes {
  const { xy, held } = draft;
  const edges = heldEdgeMap(draft);
  const list = [...edges.values()];
  const wedges = sharpWedges(xy, list);
  const changes: Changes = { insert: [], halve: new Map(), remove: new Set() };
  for (let e = 0; e < triangles.length; e += 3) {
    const a = triangles[e];
    const b = triangles[e + 1];
    const c = triangles[e + 2];
    const corner = [a, b, c];
    const angle = smallestAngle(xy, a, b, c);
    if (
      angle >= sharp &&
      shorterThan(xy, a, b, c, longest * field.at(centroid(xy, a, b, c, 0), centroid(xy, a, b, c, 1)))
    )
      continue;
    const length = [edgeLength(xy, b, c), edgeLength(xy, c, a), edgeLength(xy, a, b)];
    const gx = centroid(xy, a, b, c, 0);
    const gy = centroid(xy, a, b, c, 1);
    const h = field.at(gx, gy);
    const long = Math.max(...length);
    const tooLarge = [0, 1, 2].some((k) => length[k] > longest * h && !atSharp(edges, wedges, corner, k));
    if (angle >= sharp && !tooLarge) continue;
    const k = length.indexOf(long);
    const s = length.indexOf(Math.min(...length));
    // Between two held edges the sharp angle is given: nothing mends it.
    if (isHeld(edges, corner, s + 1) && isHeld(edges, corner, s + 2)) continue;
    if (!tooLarge && mayRemove) {
      const free = [(s + 1) % 3, (s + 2) % 3].map((m) => corner[m]).find((p) => !held[p]);
      if (length[s] < 0.6 * h && free !== undefined) {
        changes.remove.add(free);
        continue;
      }
      const height = (long > 0 ? twiceArea(xy, a, b, c) : 0) / long;
      if (isHeld(edges, corner, k) && height < 0.5 * h && !held[corner[k]]) {
        changes.remove.add(corner[k]);
        continue;
      }
    }
    const [x, y] = circumcentre(xy, a, b, c);
    const blocked = blockingEdge(xy, list, gx, gy, x, y);
    if (blocked !== undefined) {
      const half = edgeLength(xy, blocked[0], blocked[1]) / 2;
      if (half > 0.3 * h || (angle < 0.6 * sharp && half > 0.05 * h))
        changes.halve.set(edgeKey(blocked[0], blocked[1]), blocked);
    } else if (Number.isFinite(x) && Number.isFinite(y)) {
      changes.insert.push({ x, y, room: 0.7 * Math.min(h, Math.hypot(x - xy[2 * a], y - xy[2 * a + 1])) });
    }
  }
  halveTogether(xy, wedges, changes.halve);
  return changes;
}

/** Held edges at each node where two of them meet at a sharp angle. */
type Wedges = Map<number, (readonly [number, number])[]>;

function sharpWedges(xy: ArrayLike<number>, list: readonly (readonly [number, number])[]): Wedges {
  const at: Wedges = new Map();
  for (const edge of list) {
    for (const p of edge) at.set(p, [...(at.get(p) ?? []), edge]);
  }
  for (const [p, edges] of at) {
    const ways = edges.map(([a, b]) => {
      const q = a === p ? b : a;
      return Math.atan2(xy[2 * q + 1] - xy[2 * p + 1], xy[2 * q] - xy[2 * p]);
    });
    ways.sort((u, v) => u - v);
    const gaps = ways.map((u, i) => (i === 0 ? u + 2 * Math.PI - ways[ways.length - 1] : u - ways[i - 1]));
    if (ways.length < 2 || Math.min(...gaps) > sharpAngle) at.delete(p);
  }
  return at;
}

/** Whether the edge opposite corner k is held and begins at a sharp meeting: its length is not ruled by the field. */
function atSharp(edges: Map<number, unknown>, wedges: Wedges, corner: readonly number[], k: number): boolean {
  const [p, q] = [corner[(k + 1) % 3], corner[(k + 2) % 3]];
  return (wedges.has(p) || wedges.has(q)) && edges.has(edgeKey(p, q));
}

/** Edges of one length at a sharp meeting are halved together, so that their ends stay at one distance from it. */
function halveTogether(xy: ArrayLike<number>, wedges: Wedges, halve: Changes["halve"]): void {
  const queue = [...halve.values()];
  for (let edge = queue.pop(); edge !== undefined; edge = queue.pop()) {
    const length = edgeLength(xy, edge[0], edge[1]);
    for (const p of edge) {
      for (const other of wedges.get(p) ?? []) {
        const key = edgeKey(other[0], other[1]);
        if (halve.has(key) || Math.abs(edgeLength(xy, other[0], other[1]) - length) > 0.05 * length) continue;
        halve.set(key, other);
        queue.push(other);
      }
    }
  }
}

/** Coordinate k of a triangle's centroid. */
function centroid(xy: ArrayLike<number>, a: number, b: number, c: number, k: number): number {
  return (xy[2 * a + k] + xy[2 * b + k] + xy[2 * c + k]) / 3;
}

/** Whether all edges of the triangle are certainly shorter than `most`. */
function shorterThan(xy: ArrayLike<number>, a: number, b: number, c: number, most: number): boolean {
  const ux = xy[2 * b] - xy[2 * a];
  const uy = xy[2 * b + 1] - xy[2 * a + 1];
  const vx = xy[2 * c] - xy[2 * a];
  const vy = xy[2 * c + 1] - xy[2 * a + 1];
  const limit = most * most * (1 - 1e-12);
  return (
    ux * ux + uy * uy < limit &&
    vx * vx + vy * vy < limit &&
    (vx - ux) * (vx - ux) + (vy - uy) * (vy - uy) < limit
  );
}

function edgeLength(xy: ArrayLike<number>, p: number, q: number): number {
  return Math.hypot(xy[2 * q] - xy[2 * p], xy[2 * q + 1] - xy[2 * p + 1]);
}

/** Whether the edge opposite corner k (mod 3) is held. */
function isHeld(edges: Map<number, unknown>, corner: readonly number[], k: number): boolean {
  return edges.has(edgeKey(corner[(k + 1) % 3], corner[(k + 2) % 3]));
}

/** The first held edge that hides (x, y) from (gx, gy) or has it nearly within its diameter circle. */
function blockingEdge(
  xy: ArrayLike<number>,
  list: readonly (readonly [number, number])[],
  gx: number,
  gy: number,
  x: number,
  y: number,
): readonly [number, number] | undefined {
  for (const edge of list) {
    if (separates(xy, edge[0], edge[1], gx, gy, x, y) || insideDiameter(xy, edge[0], edge[1], x, y, 0.9))
      return edge;
  }
  return undefined;
}

function twiceArea(xy: ArrayLike<number>, a: number, b: number, c: number): number {
  return (
    (xy[2 * b] - xy[2 * a]) * (xy[2 * c + 1] - xy[2 * a + 1]) -
    (xy[2 * c] - xy[2 * a]) * (xy[2 * b + 1] - xy[2 * a + 1])
  );
}

function insideDiameter(
  xy: ArrayLike<number>,
  p: number,
  q: number,
  x: number,
  y: number,
  part: number,
): boolean {
  const mx = (xy[2 * p] + xy[2 * q]) / 2;
  const my = (xy[2 * p + 1] + xy[2 * q + 1]) / 2;
  const rx = xy[2 * p] - mx;
  const ry = xy[2 * p + 1] - my;
  return (x - mx) * (x - mx) + (y - my) * (y - my) < part * part * (rx * rx + ry * ry);
}

/** Held edges by name, each as node pair. */
export function heldEdgeMap(draft: Draft): Map<number, readonly [number, number]> {
  const map = new Map<number, readonly [number, number]>();
  for (const chain of draft.chains) {
    for (let i = 0; i + 1 < chain.length; i++) {
      map.set(edgeKey(chain[i], chain[i + 1]), [chain[i], chain[i + 1]]);
    }
  }
  return map;
}

/** The draft with the changes made; indices of nodes may move. Returns null if there was nothing to do. */
export function applyChanges(draft: Draft, changes: Changes): Draft | null {
  if (changes.insert.length === 0 && changes.halve.size === 0 && changes.remove.size === 0) return null;
  const xy: number[] = [];
  const held: boolean[] = [];
  const name = new Int32Array(draft.held.length).fill(-1);
  for (let p = 0; p < draft.held.length; p++) {
    if (changes.remove.has(p)) continue;
    name[p] = held.length;
    xy.push(draft.xy[2 * p], draft.xy[2 * p + 1]);
    held.push(draft.held[p]);
  }
  const chains = draft.chains.map((chain) => {
    const next: number[] = [name[chain[0]]];
    for (let i = 0; i + 1 < chain.length; i++) {
      const [a, b] = [chain[i], chain[i + 1]];
      if (changes.halve.has(edgeKey(a, b))) {
        next.push(held.length);
        xy.push((draft.xy[2 * a] + draft.xy[2 * b]) / 2, (draft.xy[2 * a + 1] + draft.xy[2 * b + 1]) / 2);
        held.push(true);
      }
      next.push(name[b]);
    }
    return next;
  });
  // Two new nodes nearer than their room would undo each other's good: the first one wins.
  const grid = new Map<string, { x: number; y: number; room: number }[]>();
  const cell = changes.insert.reduce((most, p) => Math.max(most, p.room), 0);
  for (const p of changes.insert) {
    const cx = Math.floor(p.x / cell);
    const cy = Math.floor(p.y / cell);
    let taken = false;
    for (let i = cx - 1; i <= cx + 1 && !taken; i++) {
      for (let j = cy - 1; j <= cy + 1 && !taken; j++) {
        taken = (grid.get(`${i},${j}`) ?? []).some(
          (q) => Math.hypot(p.x - q.x, p.y - q.y) < Math.min(p.room, q.room),
        );
      }
    }
    if (taken) continue;
    const key = `${cx},${cy}`;
    grid.set(key, [...(grid.get(key) ?? []), p]);
    xy.push(p.x, p.y);
    held.push(false);
  }
  return { ...draft, xy, held, chains };
}
