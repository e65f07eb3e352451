/** The same plan for a left-handed player: y becomes -y, senses stay anticlockwise, letters and numbers stay as they are. */
import type { PlaneCurve } from "./curve.ts";
import type { BodyPlan, CutawayReport } from "./plan.ts";
import { type PlateRegion, type Point, type Polygon, type Polyline, reversedPolygon } from "./polygon.ts";

export function mirrorPoint(point: Point): Point {
  return [point[0], -point[1]];
}

/** An open chain mirrored, in its own order. */
export function mirrorPolyline(line: Polyline): Polyline {
  return line.map((value, i) => (i % 2 === 0 ? value : -value));
}

/** A closed polygon mirrored and run anticlockwise again from its first point. */
export function mirrorPolygon(polygon: Polygon): Polygon {
  return reversedPolygon(mirrorPolyline(polygon));
}

/** A curve mirrored and run the other way, so that a closed one stays anticlockwise and starts at the same place. */
export function mirrorCurve(curve: PlaneCurve): PlaneCurve {
  const n = curve.knots.length;
  const turned = (jets: Float64Array, signX: number): Float64Array => {
    const out = new Float64Array(jets.length);
    for (let i = 0; i < n; i++) {
      const from = 2 * (n - 1 - i);
      out[2 * i] = signX * jets[from];
      out[2 * i + 1] = -signX * jets[from + 1];
    }
    return out;
  };
  const first = curve.knots[0];
  const last = curve.knots[n - 1];
  return {
    closed: curve.closed,
    knots: Float64Array.from(curve.knots, (_, i) => first + last - curve.knots[n - 1 - i]),
    points: turned(curve.points, 1),
    tangents: turned(curve.tangents, -1),
    seconds: turned(curve.seconds, 1),
  };
}

/** A body plan mirrored; areas and volumes are the same numbers. */
export function mirrorPlan(plan: BodyPlan): BodyPlan {
  const region = (plate: PlateRegion): PlateRegion => ({
    outline: mirrorPolygon(plate.outline),
    holes: plate.holes.map(mirrorPolygon),
  });
  const outline = mirrorCurve(plan.outline);
  return {
    ...plan,
    hand: plan.hand === "right" ? "left" : "right",
    outline,
    outlinePolygon: mirrorPolygon(plan.outlinePolygon),
    fullOutline: plan.fullOutline === plan.outline ? outline : mirrorCurve(plan.fullOutline),
    cutaway: plan.cutaway === null ? null : mirrorCutaway(plan.cutaway, plan.outline),
    hole: mirrorCurve(plan.hole),
    holePolygon: mirrorPolygon(plan.holePolygon),
    topRegion: region(plan.topRegion),
    backRegion: region(plan.backRegion),
    openEdge: plan.openEdge.map((line) => reversedChain(mirrorPolyline(line))),
  };
}

function mirrorCutaway(cutaway: CutawayReport, outline: PlaneCurve): CutawayReport {
  const whole = outline.knots[0] + outline.knots[outline.knots.length - 1];
  return {
    side: cutaway.side,
    places: cutaway.places.map((entry) => ({ ...entry, place: mirrorPoint(entry.place) })),
    from: whole - cutaway.to,
    to: whole - cutaway.from,
  };
}

/** An open chain from its end to its start. */
function reversedChain(line: Polyline): Polyline {
  const out = new Float64Array(line.length);
  for (let i = 0; i < line.length; i += 2) {
    out[line.length - 2 - i] = line[i];
    out[line.length - 1 - i] = line[i + 1];
  }
  return out;
}
