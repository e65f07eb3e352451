/** The places of an outline that makers name: tail, bouts, waist, neck end; and the name of any place on it. */
import { curveParameters, curvePoint, type PlaneCurve } from "./curve.ts";
import type { BodyPlan } from "./plan.ts";
import { type Point, polygonCentroid } from "./polygon.ts";

/** Parameters on the outline of the widest and narrowest places of one side. */
export interface SideLandmarks {
  readonly lowerBout: number;
  readonly waist: number;
  readonly upperBout: number;
}

export interface Landmarks {
  readonly tail: number;
  readonly neckEnd: number;
  /** On the side with y below 0 (treble of a right-handed guitar), then on the other; null if not bout, waist, bout. */
  readonly right: SideLandmarks | null;
  readonly left: SideLandmarks | null;
}

/** Finds them on an outline without cutaway, anticlockwise from the tail, `length` long on the centreline. */
export function landmarks(outline: PlaneCurve, length: number): Landmarks {
  const last = outline.knots[outline.knots.length - 1];
  const parameters = curveParameters(outline, (last - outline.knots[0]) / 1500);
  const places = parameters.map((t) => curvePoint(outline, t));
  let neck = 0;
  for (let i = 0; i < places.length; i++) {
    const gap = Math.hypot(places[i][0] - length, places[i][1]);
    if (gap < Math.hypot(places[neck][0] - length, places[neck][1])) neck = i;
  }
  const side = (from: number, to: number): readonly number[] => {
    const turns: number[] = [];
    for (let i = from + 1; i < to - 1; i++) {
      const before = Math.abs(places[i][1]) - Math.abs(places[i - 1][1]);
      const after = Math.abs(places[i + 1][1]) - Math.abs(places[i][1]);
      if (before * after < 0 || (before !== 0 && after === 0)) turns.push(parameters[i]);
    }
    return turns;
  };
  const right = side(0, neck);
  const left = side(neck, places.length);
  return {
    tail: parameters[0],
    neckEnd: parameters[neck],
    right: right.length === 3 ? { lowerBout: right[0], waist: right[1], upperBout: right[2] } : null,
    left: left.length === 3 ? { lowerBout: left[2], waist: left[1], upperBout: left[0] } : null,
  };
}

/** The part of the hole's edge that a place belongs to, in shop words. */
export function holePart(plan: Pick<BodyPlan, "hand" | "holePolygon">, place: Point): string {
  const bassSign = plan.hand === "right" ? 1 : -1;
  const [cx, cy] = polygonCentroid(plan.holePolygon);
  const along = place[0] - cx;
  const across = bassSign * (place[1] - cy);
  if (Math.abs(along) > Math.abs(across)) return along > 0 ? "side toward the neck" : "side toward the tail";
  return across > 0 ? "bass side" : "treble side";
}

/** What of a plan its outline alone makes. */
export type OutlinePlan = Pick<BodyPlan, "hand" | "outline" | "fullOutline" | "cutaway" | "length">;

/** The part of the outline that a place belongs to, in shop words. */
export function outlinePart(plan: OutlinePlan, place: Point): string {
  const bassSign = plan.hand === "right" ? 1 : -1;
  const side = bassSign * place[1] > 0 ? "bass side" : "treble side";
  const { cutaway } = plan;
  if (cutaway !== null) {
    let nearest = { name: "", distance: 0.012 };
    for (const entry of cutaway.places) {
      const distance = Math.hypot(entry.place[0] - place[0], entry.place[1] - place[1]);
      if (distance < nearest.distance) nearest = { name: entry.name, distance };
    }
    if (nearest.name !== "") return `cutaway: ${nearest.name}`;
    if (isInCutaway(plan, place)) return "cutaway";
  }
  const marks = landmarks(plan.fullOutline, plan.length);
  const found = (place[1] < 0 ? marks.right : marks.left) ?? marks.right ?? marks.left;
  const station = (t: number): number => curvePoint(plan.fullOutline, t)[0];
  // Without bouts and waist to be found, they are taken where they usually lie: common practice, no source.
  const [lower, waist, upper] =
    found === null
      ? [0.3 * plan.length, 0.59 * plan.length, 0.8 * plan.length]
      : [station(found.lowerBout), station(found.waist), station(found.upperBout)];
  if (place[0] < lower / 3) return Math.abs(place[1]) < 0.1 * plan.length ? "tail" : `tail, ${side}`;
  if (place[0] < (lower + waist) / 2) return `lower bout, ${side}`;
  if (place[0] < (waist + upper) / 2) return `waist, ${side}`;
  if (place[0] < upper + 0.75 * (plan.length - upper)) return `upper bout, ${side}`;
  return Math.abs(place[1]) < 0.1 * plan.length ? "neck end" : `shoulder, ${side}`;
}

/** Does a place on the outline lie on the edge of the cutaway? */
function isInCutaway(plan: OutlinePlan, place: Point): boolean {
  if (plan.cutaway === null) return false;
  const { from, to } = plan.cutaway;
  for (let i = 0; i <= 200; i++) {
    const [x, y] = curvePoint(plan.outline, from + ((to - from) * i) / 200);
    if (Math.hypot(x - place[0], y - place[1]) < (to - from) / 200) return true;
  }
  return false;
}
