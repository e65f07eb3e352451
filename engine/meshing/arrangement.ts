/**
 * First step of the mesher: the outline, the holes and the lines become an arrangement, that is points and legs
 * between them, in which no leg crosses another and what nearly touches does touch.
 *
 *   snap  = 0.1 x the size wanted there: ends, corners and crossings nearer than this become one point, and a line
 *           that passes a point nearer than this is led through it. Loops are never bent: lines give way to them.
 *   leg   = stretch of a curve between two such points; its own points in between only give its shape.
 */
import { done, failed, type Outcome } from "#engine/numerics";
import { boundsMeet, nearestOnChain, type PlaceOnChain } from "./chains.ts";
import { cornersOf, type Leg, leg, legCrossing, legsOf } from "./leg.ts";

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
  readonly curves: Leg[][];
  readonly loopCount: number;
  readonly snapAt: (x: number, y: number) => number;
}

/** n curves that all cross each other make n2 legs; more than a few times that is a knot. */
function mostLegs(legs: number): number {
  return 1000 + 4 * legs * legs;
}

/** Nearest point of the bench within `reach` of (x, y), or -1. */
function pointNear(bench: Bench, x: number, y: number, reach: number): number {
  let best = reach;
  let found = -1;
  for (let p = 0; p < bench.points.length / 2; p++) {
    const d = Math.hypot(bench.points[2 * p] - x, bench.points[2 * p + 1] - y);
    if (d <= best) {
      best = d;
      found = p;
    }
  }
  return found;
}

/** The nearest leg of the loops within reach of (x, y). */
function loopNear(bench: Bench, x: number, y: number, reach: number): PlaceOnChain | null {
  let best: PlaceOnChain | null = null;
  for (let c = 0; c < bench.loopCount; c++) {
    for (const one of bench.curves[c]) {
      const [l, b, r, t] = one.bounds;
      if (x < l - reach || x > r + reach || y < b - reach || y > t + reach) continue;
      const place = nearestOnChain(one.chain, x, y);
      if (place.distance <= (best?.distance ?? reach)) best = place;
    }
  }
  return best;
}

/** Point for (x, y): one that is there within the snap, else a new one, put on a loop if that is within the snap. */
function pointFor(bench: Bench, x: number, y: number): number {
  const snap = bench.snapAt(x, y);
  const old = pointNear(bench, x, y, snap);
  if (old >= 0) return old;
  const onLoop = loopNear(bench, x, y, snap);
  if (onLoop !== null) {
    const there = pointNear(bench, onLoop.x, onLoop.y, snap);
    if (there >= 0) return there;
  }
  bench.points.push(onLoop?.x ?? x, onLoop?.y ?? y);
  return bench.points.length / 2 - 1;
}

function splitLeg(bench: Bench, one: Leg, place: PlaceOnChain, p: number): [Leg, Leg] {
  const x = bench.points[2 * p];
  const y = bench.points[2 * p + 1];
  const cut = 2 * (place.segment + 1);
  // On a bent line a shape point close to the cut would leave a kink: it is left out. Loops keep their shape.
  const bent = Math.hypot(place.x - x, place.y - y);
  const gap = Math.max(
    bent > 1e-6 * bench.snapAt(x, y) ? 0.5 * bench.snapAt(x, y) : 0,
    1e-6 * bench.snapAt(x, y),
  );
  const near = (chain: number[], keepFirst: boolean): number[] => {
    const kept: number[] = [];
    for (let i = 0; i < chain.length; i += 2) {
      const end = keepFirst ? i === 0 : i === chain.length - 2;
      if (end || Math.hypot(chain[i] - x, chain[i + 1] - y) > gap) kept.push(chain[i], chain[i + 1]);
    }
    return kept;
  };
  const head = near(Array.from(one.chain.subarray(0, cut)), true);
  const tail = near(Array.from(one.chain.subarray(cut)), false);
  return [
    leg(one.a, p, Float64Array.from([...head, x, y])),
    leg(p, one.b, Float64Array.from([x, y, ...tail])),
  ];
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
      const split = firstThread(bench, one, isLoop, [...queue, ...kept]);
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

function firstThread(bench: Bench, one: Leg, isLoop: boolean, rest: readonly Leg[]): [Leg, Leg] | null {
  const { points, snapAt } = bench;
  for (let p = 0; p < points.length / 2; p++) {
    if (p === one.a || p === one.b) continue;
    const x = points[2 * p];
    const y = points[2 * p + 1];
    const snap = snapAt(x, y);
    const [l, b, r, t] = one.bounds;
    if (x < l - snap || x > r + snap || y < b - snap || y > t + snap) continue;
    const place = nearestOnChain(one.chain, x, y);
    // A loop is cut only by points that lie on it: rounding of the projection is all that may bend it.
    if (place.distance > (isLoop ? 1e-6 * snap : snap)) continue;
    const toEnd = Math.min(
      ...[one.a, one.b].map((e) => Math.hypot(points[2 * e] - place.x, points[2 * e + 1] - place.y)),
    );
    if (toEnd <= (isLoop ? 1e-6 * snap : 0.5 * snap) || visits(rest, p)) continue;
    return splitLeg(bench, one, place, p);
  }
  return null;
}

/** Splits curves where they cross. Returns whether anything was cut. */
function cutCrossings(bench: Bench, most: number): boolean {
  let changed = false;
  let cuts = 0;
  for (let c = 0; c < bench.curves.length; c++) {
    for (let d = Math.max(c, bench.loopCount); d < bench.curves.length; d++) {
      for (let i = 0; i < bench.curves[c].length; i++) {
        for (let j = c === d ? i + 1 : 0; j < bench.curves[d].length; j++) {
          const one = bench.curves[c][i];
          const two = bench.curves[d][j];
          if (!boundsMeet(one.bounds, two.bounds)) continue;
          const hit = legCrossing(one, two);
          if (hit === null || cuts++ > most) continue;
          let p = crossingPoint(bench, c < bench.loopCount, hit.x, hit.y);
          // Where the snap would lead a curve back to a point it has been at, or leave the crossing, it is not used.
          const ends = [one.a, one.b, two.a, two.b].filter((e) => e === p).length;
          if (ends === 2 || (ends === 0 && [c, d].some((k) => visits(bench.curves[k], p)))) {
            p = exactPoint(bench, hit.x, hit.y);
          }
          const place = { distance: 0, x: hit.x, y: hit.y };
          if (p !== two.a && p !== two.b) {
            bench.curves[d].splice(j, 1, ...splitLeg(bench, two, { ...place, segment: hit.j, t: hit.u }, p));
            changed = true;
          }
          if (p !== one.a && p !== one.b && (c >= bench.loopCount || onChain(bench, one, p))) {
            bench.curves[c].splice(i, 1, ...splitLeg(bench, one, { ...place, segment: hit.i, t: hit.t }, p));
            changed = true;
          }
        }
      }
    }
  }
  return changed;
}

function visits(legs: readonly Leg[], p: number): boolean {
  return legs.some((one) => one.a === p || one.b === p);
}

/** Point at (x, y) itself, shared only with one that lies there but for rounding. */
function exactPoint(bench: Bench, x: number, y: number): number {
  const there = pointNear(bench, x, y, 1e-6 * bench.snapAt(x, y));
  if (there >= 0) return there;
  bench.points.push(x, y);
  return bench.points.length / 2 - 1;
}

function onChain(bench: Bench, one: Leg, p: number): boolean {
  const x = bench.points[2 * p];
  const y = bench.points[2 * p + 1];
  return nearestOnChain(one.chain, x, y).distance <= 1e-6 * bench.snapAt(x, y);
}

/** Point for a crossing. On a loop the crossing itself is taken unless a point of that loop is within the snap. */
function crossingPoint(bench: Bench, withLoop: boolean, x: number, y: number): number {
  if (!withLoop) return pointFor(bench, x, y);
  const snap = bench.snapAt(x, y);
  const old = pointNear(bench, x, y, snap);
  if (old >= 0) {
    const on = loopNear(bench, bench.points[2 * old], bench.points[2 * old + 1], 1e-6 * snap);
    if (on !== null) return old;
  }
  bench.points.push(x, y);
  return bench.points.length / 2 - 1;
}

/**
 * The arrangement of closed loops (not crossing each other or themselves) and open lines, x,y by point, in m.
 * `sizeAt` is the edge length wanted. Fails with 'line-too-short' if a line shrinks to a point.
 */
export function arrange(
  loops: readonly Float64Array[],
  lines: readonly Float64Array[],
  sizeAt: (x: number, y: number) => number,
): Outcome<Arrangement> {
  const snapAt = (x: number, y: number) => snapFraction * sizeAt(x, y);
  const bench: Bench = { points: [], curves: [], loopCount: loops.length, snapAt };
  const { points } = bench;
  for (const loop of loops) {
    const corner = cornersOf(loop, true, sizeAt);
    const ids = corner.map((is, i) => (is ? points.push(loop[2 * i], loop[2 * i + 1]) / 2 - 1 : -1));
    bench.curves.push(legsOf(loop, ids, points, true));
  }
  lines.forEach((line) => {
    const corner = cornersOf(line, false, sizeAt);
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
