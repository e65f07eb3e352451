/** Stretches of curves between two points of an arrangement. */
import { polygonBounds } from "#engine/geometry";
import { nearestOnChain } from "./chains.ts";

/** Legs end where a curve turns by more than this, rad. */
const cornerTurn = (25 * Math.PI) / 180;
/** A point between two edges that are both longer than this many sizes is kept as a corner. */
const coarseFraction = 0.7;

export interface Leg {
  readonly a: number;
  readonly b: number;
  /** x,y from point a to point b, both included. */
  readonly chain: Float64Array;
  readonly bounds: readonly [number, number, number, number];
}

/** A leg with its bounds. */
export function leg(a: number, b: number, chain: Float64Array): Leg {
  return { a, b, chain, bounds: polygonBounds(chain) };
}

function turnAt(px: number, py: number, x: number, y: number, nx: number, ny: number): number {
  const ux = x - px;
  const uy = y - py;
  const vx = nx - x;
  const vy = ny - y;
  return Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
}

/** True for each point of the chain that must become a node. */
export function cornersOf(
  chain: Float64Array,
  closed: boolean,
  sizeAt: (x: number, y: number) => number,
): boolean[] {
  const n = chain.length / 2;
  const corner: boolean[] = [];
  for (let i = 0; i < n; i++) {
    const p = (i + n - 1) % n;
    const q = (i + 1) % n;
    const [px, py, x, y, nx, ny] = [p, i, q].flatMap((k) => [chain[2 * k], chain[2 * k + 1]]) as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const long = coarseFraction * sizeAt(x, y);
    corner.push(
      (!closed && (i === 0 || i === n - 1)) ||
        turnAt(px, py, x, y, nx, ny) > cornerTurn ||
        (Math.hypot(x - px, y - py) >= long && Math.hypot(nx - x, ny - y) >= long),
    );
  }
  if (closed && corner.filter(Boolean).length < 3) {
    for (let k = 0; k < 3; k++) corner[Math.floor((k * n) / 3)] = true;
  }
  return corner;
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
  let shape: number[] = [];
  for (let k = 1; k <= (closed ? n : n - 1 - start); k++) {
    const i = (start + k) % n;
    if (ids[i] < 0) {
      shape.push(chain[2 * i], chain[2 * i + 1]);
      continue;
    }
    const to = ids[i];
    if (to !== from || shape.length > 2) {
      const ends = [from, to].map((p) => [points[2 * p], points[2 * p + 1]]) as [number[], number[]];
      legs.push(leg(from, to, Float64Array.from([...ends[0], ...shape, ...ends[1]])));
    }
    from = to;
    shape = [];
  }
  return legs;
}

/** First place where two legs cross away from a shared end, as places on both; null if they do not. */
export function legCrossing(
  one: Leg,
  two: Leg,
): { x: number; y: number; i: number; t: number; j: number; u: number } | null {
  const p = one.chain;
  const q = two.chain;
  for (let i = 0; i + 3 < p.length; i += 2) {
    for (let j = 0; j + 3 < q.length; j += 2) {
      const ax = p[i];
      const ay = p[i + 1];
      const dx = p[i + 2] - ax;
      const dy = p[i + 3] - ay;
      const ex = q[j + 2] - q[j];
      const ey = q[j + 3] - q[j + 1];
      const det = dx * ey - dy * ex;
      if (Math.abs(det) <= 1e-14 * Math.hypot(dx, dy) * Math.hypot(ex, ey)) continue;
      const fx = q[j] - ax;
      const fy = q[j + 1] - ay;
      const t = (fx * ey - fy * ex) / det;
      const u = (fx * dy - fy * dx) / det;
      if (t < 0 || t > 1 || u < 0 || u > 1) continue;
      const atEnd = (s: number, k: number, m: number) =>
        s <= 1e-9 && k === 0 ? 0 : s >= 1 - 1e-9 && k === m - 4 ? 1 : -1;
      const endOne = atEnd(t, i, p.length);
      const endTwo = atEnd(u, j, q.length);
      const idOne = endOne === 0 ? one.a : endOne === 1 ? one.b : -1;
      const idTwo = endTwo === 0 ? two.a : endTwo === 1 ? two.b : -1;
      if (idOne >= 0 && idOne === idTwo) continue;
      return { x: ax + t * dx, y: ay + t * dy, i: i / 2, t, j: j / 2, u };
    }
  }
  return null;
}

/** Two legs with the same ends that nowhere part by more than `gap`. */
export function sameLeg(one: Leg, two: Leg, gap: number): boolean {
  const ends = (one.a === two.a && one.b === two.b) || (one.a === two.b && one.b === two.a);
  if (!ends) return false;
  const within = (p: Float64Array, q: Float64Array): boolean => {
    for (let i = 0; i < p.length; i += 2) if (nearestOnChain(q, p[i], p[i + 1]).distance > gap) return false;
    return true;
  };
  return within(one.chain, two.chain) && within(two.chain, one.chain);
}
