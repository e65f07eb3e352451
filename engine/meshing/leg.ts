/** Stretches of curves between two points of an arrangement. */
import { polygonBounds } from "#engine/geometry";
import { chainRuns, distanceToChain, putPointAlong } from "./chains.ts";
import { type SizeField, sizeAt } from "./sizing.ts";

/** Legs end where a curve turns by more than this, rad. */
const cornerTurn = (25 * Math.PI) / 180;
/** A point between two edges that are both longer than this many sizes is kept as a corner. */
const coarseFraction = 0.7;

export interface Leg {
  readonly a: number;
  readonly b: number;
  /** x,y from point a to point b, both included. */
  readonly chain: Float64Array;
  /** Distance of each point from a along the chain; the whole length. */
  readonly runs: Float64Array;
  readonly length: number;
  readonly bounds: readonly [number, number, number, number];
}

/** A leg with its bounds. */
export function leg(a: number, b: number, chain: Float64Array): Leg {
  const runs = chainRuns(chain);
  return { a, b, chain, runs, length: runs[runs.length - 1], bounds: polygonBounds(chain) };
}

/** The points at the distances s along the leg, x,y by point. */
export function legPoints(one: Leg, s: ArrayLike<number>): Float64Array {
  const out = new Float64Array(2 * s.length);
  for (let k = 0; k < s.length; k++) putPointAlong(one.chain, one.runs, s[k], out, 2 * k);
  return out;
}

/** The point at distance s along the leg. */
export function legPoint(one: Leg, s: number): Float64Array {
  const out = new Float64Array(2);
  putPointAlong(one.chain, one.runs, s, out, 0);
  return out;
}

/** True for each point of the chain that must become a node. */
export function cornersOf(chain: Float64Array, closed: boolean, field: SizeField): boolean[] {
  const n = chain.length / 2;
  const corner: boolean[] = [];
  let count = 0;
  for (let i = 0; i < n; i++) {
    const is = (!closed && (i === 0 || i === n - 1)) || isCorner(chain, i, field);
    corner.push(is);
    if (is) count++;
  }
  if (closed && count < 3) {
    for (let k = 0; k < 3; k++) corner[Math.floor((k * n) / 3)] = true;
  }
  return corner;
}

function isCorner(chain: Float64Array, i: number, field: SizeField): boolean {
  const n = chain.length / 2;
  const p = i === 0 ? n - 1 : i - 1;
  const q = i === n - 1 ? 0 : i + 1;
  const x = chain[2 * i];
  const y = chain[2 * i + 1];
  const ux = x - chain[2 * p];
  const uy = y - chain[2 * p + 1];
  const vx = chain[2 * q] - x;
  const vy = chain[2 * q + 1] - y;
  if (Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) > cornerTurn) return true;
  const long = coarseFraction * sizeAt(field, x, y);
  return ux * ux + uy * uy >= long * long && vx * vx + vy * vy >= long * long;
}

/** Cuts a chain into legs at its corners; `ids` names the point of each corner. Points of one name in a row are merged. */
export function legsOf(
  chain: Float64Array,
  ids: readonly number[],
  points: readonly number[],
  closed: boolean,
): Leg[] {
  const n = chain.length / 2;
  const start = ids.findIndex((id) => id >= 0);
  const legs: Leg[] = [];
  let from = ids[start];
  let shape = [points[2 * from], points[2 * from + 1]];
  for (let k = 1; k <= (closed ? n : n - 1 - start); k++) {
    const i = (start + k) % n;
    const to = ids[i];
    if (to < 0) {
      shape.push(chain[2 * i], chain[2 * i + 1]);
      continue;
    }
    shape.push(points[2 * to], points[2 * to + 1]);
    if (to !== from || shape.length > 6) legs.push(leg(from, to, Float64Array.from(shape)));
    from = to;
    shape = [points[2 * from], points[2 * from + 1]];
  }
  return legs;
}

/** Where two legs cross: the place, and the segment and the part of it on either. */
export interface LegCrossing {
  readonly x: number;
  readonly y: number;
  readonly i: number;
  readonly t: number;
  readonly j: number;
  readonly u: number;
}

/** First place where two legs cross away from a shared end; null if they do not. */
export function legCrossing(one: Leg, two: Leg): LegCrossing | null {
  for (let i = 0; i + 3 < one.chain.length; i += 2) {
    for (let j = 0; j + 3 < two.chain.length; j += 2) {
      const hit = segmentsCross(one, i, two, j);
      if (hit !== null) return hit;
    }
  }
  return null;
}

/** The crossing of the segments from coordinate i of one leg and j of the other, if it is not at an end that both share. */
function segmentsCross(one: Leg, i: number, two: Leg, j: number): LegCrossing | null {
  const p = one.chain;
  const q = two.chain;
  const ax = p[i];
  const ay = p[i + 1];
  const dx = p[i + 2] - ax;
  const dy = p[i + 3] - ay;
  const ex = q[j + 2] - q[j];
  const ey = q[j + 3] - q[j + 1];
  const det = dx * ey - dy * ex;
  if (det * det <= 1e-28 * (dx * dx + dy * dy) * (ex * ex + ey * ey)) return null;
  const fx = q[j] - ax;
  const fy = q[j + 1] - ay;
  const t = (fx * ey - fy * ex) / det;
  const u = (fx * dy - fy * dx) / det;
  if (t < 0 || t > 1 || u < 0 || u > 1) return null;
  const end = endAt(one, i, t);
  if (end >= 0 && end === endAt(two, j, u)) return null;
  return { x: ax + t * dx, y: ay + t * dy, i: i / 2, t, j: j / 2, u };
}

/** The point of the leg that part s of the segment from coordinate i is, -1 if none. */
function endAt(one: Leg, i: number, s: number): number {
  if (s <= 1e-9 && i === 0) return one.a;
  return s >= 1 - 1e-9 && i === one.chain.length - 4 ? one.b : -1;
}

/** Two legs with the same ends that nowhere part by more than `gap`. */
export function sameLeg(one: Leg, two: Leg, gap: number): boolean {
  const ends = (one.a === two.a && one.b === two.b) || (one.a === two.b && one.b === two.a);
  if (!ends) return false;
  return isWithin(one.chain, two.chain, gap) && isWithin(two.chain, one.chain, gap);
}

function isWithin(p: Float64Array, q: Float64Array, gap: number): boolean {
  for (let i = 0; i < p.length; i += 2) if (distanceToChain(q, p[i], p[i + 1]) > gap) return false;
  return true;
}
