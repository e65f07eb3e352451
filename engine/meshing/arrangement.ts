/**
 * First step of the mesher: the outline, the holes and the lines become an arrangement, that is points and legs
 * between them, in which no leg crosses another and what nearly touches does touch.
 *
 *   snap  = 0.1 x the size wanted there: ends, corners and crossings nearer than this become one point, and a line
 *           that passes a point nearer than this is led through it. Loops are never bent: lines give way to them.
 *   leg   = stretch of a curve between two such points; its own points in between only give its shape.
 */
import { done, failed, type Outcome } from "#engine/numerics";
import { boundsMeet, isBeyond, nearestOnChain, type PlaceOnChain } from "./chains.ts";
import { cornersOf, type Leg, type LegCrossing, leg, legCrossing, legsOf } from "./leg.ts";
import { type SizeField, sizeAt } from "./sizing.ts";

export const snapFraction = 0.1;

export interface Arrangement {
  /** x,y by point. */
  readonly points: readonly number[];
  /** Legs of each loop and of each line, in order. */
  readonly loops: readonly (readonly Leg[])[];
  readonly lines: readonly (readonly Leg[])[];
}

/** Curves under work: loops first, then lines. */
interface Bench {
  readonly points: number[];
  /** By point: its snap, m. */
  readonly snaps: number[];
  readonly curves: Leg[][];
  readonly loopCount: number;
  readonly field: SizeField;
}

function snapAt({ field }: Bench, x: number, y: number): number {
  return snapFraction * sizeAt(field, x, y);
}

/** Adds a point to the bench; returns its number. */
function addPoint(bench: Bench, x: number, y: number): number {
  bench.points.push(x, y);
  bench.snaps.push(snapAt(bench, x, y));
  return bench.snaps.length - 1;
}

/** n curves that all cross each other make n2 legs; more than a few times that is a knot. */
function mostLegs(legs: number): number {
  return 1000 + 4 * legs * legs;
}

/** Nearest point of the bench within `reach` of (x, y), or -1. */
function pointNear(bench: Bench, x: number, y: number, reach: number): number {
  const { points } = bench;
  let best = reach * reach;
  let found = -1;
  for (let p = 0; p < points.length; p += 2) {
    const dx = points[p] - x;
    const dy = points[p + 1] - y;
    if (dx * dx + dy * dy > best) continue;
    best = dx * dx + dy * dy;
    found = p / 2;
  }
  return found;
}

/** The nearest leg of the loops within reach of (x, y). */
function loopNear(bench: Bench, x: number, y: number, reach: number): PlaceOnChain | null {
  let best: PlaceOnChain | null = null;
  for (let c = 0; c < bench.loopCount; c++) {
    for (const one of bench.curves[c]) {
      if (isBeyond(one.bounds, x, y, reach)) continue;
      const place = nearestOnChain(one.chain, x, y);
      if (place.distance <= (best?.distance ?? reach)) best = place;
    }
  }
  return best;
}

/** Point for (x, y): one that is there within the snap, else a new one, put on a loop if that is within the snap. */
function pointFor(bench: Bench, x: number, y: number): number {
  const snap = snapAt(bench, x, y);
  const old = pointNear(bench, x, y, snap);
  if (old >= 0) return old;
  const onLoop = loopNear(bench, x, y, snap);
  if (onLoop !== null) {
    const there = pointNear(bench, onLoop.x, onLoop.y, snap);
    if (there >= 0) return there;
  }
  return addPoint(bench, onLoop?.x ?? x, onLoop?.y ?? y);
}

function splitLeg(bench: Bench, one: Leg, place: PlaceOnChain, p: number): [Leg, Leg] {
  const x = bench.points[2 * p];
  const y = bench.points[2 * p + 1];
  const cut = 2 * (place.segment + 1);
  // On a bent line a shape point close to the cut would leave a kink: it is left out. Loops keep their shape.
  const bent = Math.hypot(place.x - x, place.y - y);
  const snap = snapAt(bench, x, y);
  const gap = bent > 1e-6 * snap ? 0.5 * snap : 1e-6 * snap;
  const head = partOf(one.chain, 0, cut, 0, x, y, gap);
  head.push(x, y);
  const tail = partOf(one.chain, cut, one.chain.length, one.chain.length - 2, x, y, gap);
  return [leg(one.a, p, Float64Array.from(head)), leg(p, one.b, Float64Array.from([x, y, ...tail]))];
}

/** The chain's coordinates from one number up to another, points within the gap of (x, y) left out but for the one at `end`. */
function partOf(
  chain: Float64Array,
  from: number,
  to: number,
  end: number,
  x: number,
  y: number,
  gap: number,
): number[] {
  const kept: number[] = [];
  for (let i = from; i < to; i += 2) {
    if (i === end || Math.hypot(chain[i] - x, chain[i + 1] - y) > gap) kept.push(chain[i], chain[i + 1]);
  }
  return kept;
}

/** Leads each leg through the points that lie nearer than the snap. Returns whether anything was cut. */
function threadPoints(bench: Bench): boolean {
  let changed = false;
  for (let c = 0; c < bench.curves.length; c++) {
    const isLoop = c < bench.loopCount;
    const queue = [...bench.curves[c]].reverse();
    const kept: Leg[] = [];
    while (queue.length > 0) {
      const one = queue.pop()!;
      const split = firstThread(bench, one, isLoop, queue, kept);
      if (split === null) kept.push(one);
      else {
        changed = true;
        queue.push(split[1], split[0]);
      }
    }
    bench.curves[c] = kept;
  }
  return changed;
}

/** The leg split at the first point it must be led through; null if there is none. `queue` and `kept`: its curve's other legs. */
function firstThread(
  bench: Bench,
  one: Leg,
  isLoop: boolean,
  queue: readonly Leg[],
  kept: readonly Leg[],
): [Leg, Leg] | null {
  const { points, snaps } = bench;
  for (let p = 0; p < snaps.length; p++) {
    if (isBeyond(one.bounds, points[2 * p], points[2 * p + 1], snaps[p]) || p === one.a || p === one.b)
      continue;
    const place = placeOfThread(bench, one, isLoop, p);
    if (place === null || visits(queue, p) || visits(kept, p)) continue;
    return splitLeg(bench, one, place, p);
  }
  return null;
}

/** Where the leg is to be led through point p; null if it passes too far away or p is too near one of its ends. */
function placeOfThread({ points, snaps }: Bench, one: Leg, isLoop: boolean, p: number): PlaceOnChain | null {
  const place = nearestOnChain(one.chain, points[2 * p], points[2 * p + 1]);
  // A loop is cut only by points that lie on it: rounding of the projection is all that may bend it.
  if (place.distance > (isLoop ? 1e-6 * snaps[p] : snaps[p])) return null;
  const toA = Math.hypot(points[2 * one.a] - place.x, points[2 * one.a + 1] - place.y);
  const toB = Math.hypot(points[2 * one.b] - place.x, points[2 * one.b + 1] - place.y);
  return Math.min(toA, toB) <= (isLoop ? 1e-6 * snaps[p] : 0.5 * snaps[p]) ? null : place;
}

/** Splits curves where they cross. Returns whether anything was cut. */
function cutCrossings(bench: Bench, most: number): boolean {
  let changed = false;
  let cuts = 0;
  for (let c = 0; c < bench.curves.length; c++) {
    for (let d = Math.max(c, bench.loopCount); d < bench.curves.length; d++) {
      for (let i = 0; i < bench.curves[c].length; i++) {
        for (let j = c === d ? i + 1 : 0; j < bench.curves[d].length; j++) {
          if (!boundsMeet(bench.curves[c][i].bounds, bench.curves[d][j].bounds)) continue;
          const hit = legCrossing(bench.curves[c][i], bench.curves[d][j]);
          if (hit !== null && cuts++ <= most && cutAt(bench, c, i, d, j, hit)) changed = true;
        }
      }
    }
  }
  return changed;
}

/** Splits leg i of curve c and leg j of curve d where they cross. Returns whether anything was cut. */
function cutAt(bench: Bench, c: number, i: number, d: number, j: number, hit: LegCrossing): boolean {
  const one = bench.curves[c][i];
  const two = bench.curves[d][j];
  let p = crossingPoint(bench, c < bench.loopCount, hit.x, hit.y);
  // Where the snap would lead a curve back to a point it has been at, or leave the crossing, it is not used.
  const ends = [one.a, one.b, two.a, two.b].filter((e) => e === p).length;
  if (ends === 2 || (ends === 0 && [c, d].some((k) => visits(bench.curves[k], p)))) {
    p = exactPoint(bench, hit.x, hit.y);
  }
  const place = { distance: 0, x: hit.x, y: hit.y };
  let changed = false;
  if (p !== two.a && p !== two.b) {
    bench.curves[d].splice(j, 1, ...splitLeg(bench, two, { ...place, segment: hit.j, t: hit.u }, p));
    changed = true;
  }
  if (p !== one.a && p !== one.b && (c >= bench.loopCount || onChain(bench, one, p))) {
    bench.curves[c].splice(i, 1, ...splitLeg(bench, one, { ...place, segment: hit.i, t: hit.t }, p));
    changed = true;
  }
  return changed;
}

function visits(legs: readonly Leg[], p: number): boolean {
  for (let k = 0; k < legs.length; k++) if (legs[k].a === p || legs[k].b === p) return true;
  return false;
}

/** Point at (x, y) itself, shared only with one that lies there but for rounding. */
function exactPoint(bench: Bench, x: number, y: number): number {
  const there = pointNear(bench, x, y, 1e-6 * snapAt(bench, x, y));
  if (there >= 0) return there;
  return addPoint(bench, x, y);
}

function onChain(bench: Bench, one: Leg, p: number): boolean {
  const x = bench.points[2 * p];
  const y = bench.points[2 * p + 1];
  return nearestOnChain(one.chain, x, y).distance <= 1e-6 * snapAt(bench, x, y);
}

/** Point for a crossing. On a loop the crossing itself is taken unless a point of that loop is within the snap. */
function crossingPoint(bench: Bench, withLoop: boolean, x: number, y: number): number {
  if (!withLoop) return pointFor(bench, x, y);
  const snap = snapAt(bench, x, y);
  const old = pointNear(bench, x, y, snap);
  if (old >= 0) {
    const on = loopNear(bench, bench.points[2 * old], bench.points[2 * old + 1], 1e-6 * snap);
    if (on !== null) return old;
  }
  return addPoint(bench, x, y);
}

/**
 * The arrangement of closed loops (not crossing each other or themselves) and open lines, x,y by point, in m.
 * `field` is the edge length wanted. Fails with 'line-too-short' if a line shrinks to a point.
 */
export function arrange(
  loops: readonly Float64Array[],
  lines: readonly Float64Array[],
  field: SizeField,
): Outcome<Arrangement> {
  const bench: Bench = { points: [], snaps: [], curves: [], loopCount: loops.length, field };
  const { points } = bench;
  for (const loop of loops) {
    const corner = cornersOf(loop, true, field);
    const ids = corner.map((is, i) => (is ? addPoint(bench, loop[2 * i], loop[2 * i + 1]) : -1));
    bench.curves.push(legsOf(loop, ids, points, true));
  }
  lines.forEach((line) => {
    const corner = cornersOf(line, false, field);
    const ids = corner.map((is, i) => (is ? pointFor(bench, line[2 * i], line[2 * i + 1]) : -1));
    bench.curves.push(legsOf(line, ids, points, false));
  });
  // Each pass can bend a line by one snap and so make a new crossing; ordinary plans need two passes.
  const count = () => bench.curves.reduce((sum, legs) => sum + legs.length, 0);
  const most = mostLegs(count());
  for (let pass = 0; pass < 12 && count() <= most; pass++) {
    const cut = cutCrossings(bench, most);
    const threaded = threadPoints(bench);
    if (!cut && !threaded) {
      const short = bench.curves.findIndex((legs) => legs.length === 0);
      if (short >= 0) {
        return failed(
          "line-too-short",
          `line ${short - loops.length + 1} is too short for the mesh size: both its ends fall on one node`,
        );
      }
      return done({
        points,
        loops: bench.curves.slice(0, loops.length),
        lines: bench.curves.slice(loops.length),
      });
    }
  }
  return failed(
    "lines-tangled",
    "the lines cross so often within a tenth of the mesh size that no mesh follows them",
  );
}
