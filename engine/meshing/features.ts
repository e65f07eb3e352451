/** Where an arrangement wants smaller triangles: tight curves, narrow gaps, and legs that meet at a sharp angle. */
import type { Arrangement } from "./arrangement.ts";
import { boundsWithin, isBeyond, nearestOnChain, segmentDistance2 } from "./chains.ts";
import { type Leg, legPoint } from "./leg.ts";
import { type SizeField, type SizeSource, sizeAt } from "./sizing.ts";

/** Greatest distance between a chord of the mesh and the curve it stands for, in sizes. */
export const sagFraction = 0.02;
/** Legs that meet at less than this angle are cut at equal distances from their meeting, rad. */
export const sharpAngle = Math.PI / 4;
/** The size across a gap, in widths of the gap. */
const gapFraction = 1.5;
/** Greatest turn of a smooth curve from one edge to the next, rad. */
const mostTurn = Math.PI / 6;
/** The size at a leg too short for the general size, in lengths of the leg. */
const shortFraction = 1.8;
/** No feature asks for less than this many general sizes. */
const leastFraction = 0.02;

/** Direction in which a leg leaves its end a (from = true) or b, measured at distance s from that end. */
function departure(one: Leg, fromA: boolean, s: number): [number, number] {
  const x0 = fromA ? one.chain[0] : one.chain[one.chain.length - 2];
  const y0 = fromA ? one.chain[1] : one.chain[one.chain.length - 1];
  const [x, y] = legPoint(one, fromA ? s : one.length - s);
  const l = Math.hypot(x - x0, y - y0) || 1;
  return [(x - x0) / l, (y - y0) / l];
}

/** What the features are sought in: the size wanted, and whether a place belongs to the region. */
export interface Ground {
  readonly field: SizeField;
  readonly inside: (x: number, y: number) => boolean;
}

/** Point of a leg at distance s from its end a (end = 0) or b (end = 1). */
function fromEnd(one: Leg, end: number, s: number): Float64Array {
  return legPoint(one, end === 0 ? s : one.length - s);
}

/** Largest distance of a leg from the chord of its first stretch of length s. */
function headSag(one: Leg, end: number, s: number): number {
  if (one.chain.length === 4) return 0;
  const [ax, ay] = fromEnd(one, end, 0);
  const [bx, by] = fromEnd(one, end, s);
  let worst = 0;
  for (const part of [0.25, 0.5, 0.75]) {
    const [x, y] = fromEnd(one, end, part * s);
    worst = Math.max(worst, segmentDistance2(x, y, ax, ay, bx, by));
  }
  return Math.sqrt(worst);
}

/**
 * First edge length for each leg end that meets another leg at a sharp angle within the region, by leg: [at a, at b];
 * 0 where there is no such meeting.
 */
export function sharpMeetings(legs: readonly Leg[], ground: Ground): Float64Array {
  const first = new Float64Array(2 * legs.length);
  const byPoint = new Map<number, { leg: number; end: number }[]>();
  legs.forEach((one, k) => {
    for (const [end, p] of [one.a, one.b].entries()) {
      const list = byPoint.get(p);
      if (list === undefined) byPoint.set(p, [{ leg: k, end }]);
      else list.push({ leg: k, end });
    }
  });
  for (const ends of byPoint.values()) {
    if (ends.length < 2) continue;
    const one = legs[ends[0].leg];
    const at = ends[0].end === 0 ? 0 : one.chain.length - 2;
    const wanted = sizeAt(ground.field, one.chain[at], one.chain[at + 1]);
    let step = wanted;
    const sharp = new Set<number>();
    const way = ends.map((e) => departure(legs[e.leg], e.end === 0, step));
    for (let i = 0; i < ends.length; i++) {
      for (let j = i + 1; j < ends.length; j++) {
        const cos = way[i][0] * way[j][0] + way[i][1] * way[j][1];
        if (cos <= Math.cos(sharpAngle)) continue;
        const [px, py] = fromEnd(legs[ends[i].leg], ends[i].end, 0.3 * step);
        const [qx, qy] = fromEnd(legs[ends[j].leg], ends[j].end, 0.3 * step);
        if (ground.inside((px + qx) / 2, (py + qy) / 2)) sharp.add(i).add(j);
      }
    }
    // A leg shorter than the step sets it, so that all legs of the meeting have a node at one distance.
    for (const i of sharp) {
      const { length } = legs[ends[i].leg];
      if (length < 1.5 * step) step = Math.max(length, 0.5 * step);
    }
    for (const i of sharp) {
      for (let n = 0; n < 6 && headSag(legs[ends[i].leg], ends[i].end, step) > sagFraction * wanted; n++)
        step /= 2;
    }
    for (const i of sharp) first[2 * ends[i].leg + ends[i].end] = step;
  }
  return first;
}

/** Sources from the turning of a leg: chord h on radius R sags h2/(8R), which must not pass sagFraction x size. */
function curvatureSources(one: Leg, field: SizeField, out: SizeSource[]): void {
  const c = one.chain;
  if (c.length < 6) return;
  const n = c.length / 2;
  const at = one.runs;
  const turn = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    const ux = c[2 * i] - c[2 * i - 2];
    const uy = c[2 * i + 1] - c[2 * i - 1];
    const vx = c[2 * i + 2] - c[2 * i];
    const vy = c[2 * i + 3] - c[2 * i + 1];
    turn[i] = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
  }
  let lo = 1;
  let hi = 1;
  let sum = 0;
  for (let i = 1; i < n - 1; i++) {
    const wanted = sizeAt(field, c[2 * i], c[2 * i + 1]);
    const half = 0.5 * wanted;
    while (hi < n - 1 && at[hi] <= at[i] + half) sum += turn[hi++];
    while (at[lo] < at[i] - half) sum -= turn[lo++];
    // Arc that belongs to the points lo .. hi-1: half an edge beyond either.
    const arc = (at[hi - 1] + at[Math.min(hi, n - 1)] - at[lo] - at[lo - 1]) / 2;
    const curvature = Math.abs(sum) / arc;
    const size = Math.min(Math.sqrt((8 * sagFraction * wanted) / curvature), mostTurn / curvature);
    if (size < wanted)
      out.push({ x: c[2 * i], y: c[2 * i + 1], size: Math.max(size, leastFraction * wanted), reach: 0 });
  }
}

/** Width of the gap from (x, y) to the leg, across the region, or `far` if that is less. */
function gapTo(one: Leg, x: number, y: number, far: number, ground: Ground): number {
  if (isBeyond(one.bounds, x, y, far)) return far;
  const place = nearestOnChain(one.chain, x, y);
  if (place.distance >= far || !ground.inside((x + place.x) / 2, (y + place.y) / 2)) return far;
  return place.distance;
}

/** Whether leg k, at s along it, is too near its meeting with leg `two` for the gap between them to count. */
function isNearMeeting(
  one: Leg,
  k: number,
  two: Leg,
  s: number,
  wanted: number,
  first: Float64Array,
): boolean {
  const touchA = one.a === two.a || one.a === two.b;
  const touchB = one.b === two.a || one.b === two.b;
  if (!touchA && !touchB) return false;
  const { length } = one;
  if (touchA && s < (first[2 * k] || length / 4) * 0.999) return true;
  if (touchB && length - s < (first[2 * k + 1] || length / 4) * 0.999) return true;
  if ((touchA && !first[2 * k]) || (touchB && !first[2 * k + 1])) {
    // Legs that meet at an open angle part by themselves.
    const nearest = Math.min(touchA ? s : length, touchB ? length - s : length);
    if (nearest < wanted) return true;
  }
  return false;
}

/** Places along leg k from which gaps are looked at. */
function gapPlaces(one: Leg, k: number, first: Float64Array, field: SizeField): number[] {
  const { length } = one;
  const middle = legPoint(one, length / 2);
  const steps = Math.max(2, Math.ceil((2 * length) / sizeAt(field, middle[0], middle[1])));
  const places: number[] = [];
  for (let i = 0; i <= steps; i++) places.push((i * length) / steps);
  for (let end = 0; end < 2; end++) {
    const s = first[2 * k + end];
    // Past a sharp meeting the gap opens from nothing: its first places need to be seen close by.
    for (let f = 1; s > 0 && f < 4; f += 0.4)
      if (f * s < length) places.push(end === 0 ? f * s : length - f * s);
  }
  return places;
}

/** Sources from gaps between legs, sampled along each leg and at its ends. */
function gapSources(legs: readonly Leg[], first: Float64Array, ground: Ground, out: SizeSource[]): void {
  const { field } = ground;
  const most = field.size / gapFraction;
  for (let k = 0; k < legs.length; k++) {
    const one = legs[k];
    const near: Leg[] = [];
    for (let m = 0; m < legs.length; m++)
      if (m !== k && boundsWithin(one.bounds, legs[m].bounds, most)) near.push(legs[m]);
    if (near.length === 0) continue;
    for (const s of gapPlaces(one, k, first, field)) {
      const p = legPoint(one, s);
      const wanted = sizeAt(field, p[0], p[1]);
      const far = wanted / gapFraction;
      let gap = far;
      for (let m = 0; m < near.length; m++) {
        if (!isNearMeeting(one, k, near[m], s, wanted, first))
          gap = Math.min(gap, gapTo(near[m], p[0], p[1], far, ground));
      }
      if (gap < far) {
        const size = Math.max(gapFraction * gap, leastFraction * wanted);
        out.push({ x: p[0], y: p[1], size, reach: 0 });
      }
    }
  }
}

/** Sources from legs shorter than the size: the triangles on them have that edge. */
function shortLegSources(legs: readonly Leg[], ground: Ground, out: SizeSource[]): void {
  for (const one of legs) {
    const { length } = one;
    const [x, y] = legPoint(one, length / 2);
    const wanted = sizeAt(ground.field, x, y);
    if (shortFraction * length < wanted) {
      out.push({ x, y, size: Math.max(shortFraction * length, leastFraction * wanted), reach: length / 2 });
    }
  }
}

/** All sources of an arrangement; `legs` without duplicates, `first` from `sharpMeetings`. */
export function featureSources(legs: readonly Leg[], first: Float64Array, ground: Ground): SizeSource[] {
  const out: SizeSource[] = [];
  for (const one of legs) curvatureSources(one, ground.field, out);
  gapSources(legs, first, ground, out);
  shortLegSources(legs, ground, out);
  return out;
}

/** The legs of an arrangement without duplicates, and for each curve the index and direction of its legs. */
export function distinctLegs(
  a: Arrangement,
  same: (one: Leg, two: Leg) => boolean,
): { legs: Leg[]; loops: SignedLeg[][]; lines: SignedLeg[][] } {
  const legs: Leg[] = [];
  const byEnds = new Map<string, number[]>();
  const index = (one: Leg): SignedLeg => {
    const key = `${Math.min(one.a, one.b)},${Math.max(one.a, one.b)}`;
    const list = byEnds.get(key) ?? [];
    byEnds.set(key, list);
    const found = list.find((k) => same(legs[k], one));
    if (found !== undefined) return { leg: found, forward: legs[found].a === one.a };
    list.push(legs.length);
    legs.push(one);
    return { leg: legs.length - 1, forward: true };
  };
  const loops = a.loops.map((curve) => curve.map(index));
  const lines = a.lines.map((curve) => curve.map(index));
  return { legs, loops, lines };
}

export interface SignedLeg {
  readonly leg: number;
  readonly forward: boolean;
}
