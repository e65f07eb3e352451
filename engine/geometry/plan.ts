/** The body in plan as it comes out of `bodyPlan`. */
import type { PlaneCurve } from "./curve.ts";
import type { PlateRegion, Point, Polygon, Polyline } from "./polygon.ts";

/** One place where the curvature of a cutaway turns: its tip, its scoop or its corner on the neck line. */
export interface CutawayPlace {
  readonly name:
    | "leaves the outline"
    | "horn tip"
    | "deepest place"
    | "scoop"
    | "corner"
    | "joins the neck line";
  readonly place: Point;
  /** Signed, 1/m; positive where the outline is convex. */
  readonly curvature: number;
}

/** How the cutaway came out. Between neighbouring extrema (tip, scoop, corner) the curvature is monotone in arc length. */
export interface CutawayReport {
  readonly side: "bass" | "treble";
  readonly places: readonly CutawayPlace[];
  /** Parameters on the outline where the cutaway begins and ends (begin < end; the outline starts at the tail). */
  readonly from: number;
  readonly to: number;
}

export interface BodyAreas {
  /** Inside the outline, flat, m2. */
  readonly plan: number;
  /** Top as cut (hole removed): flat, and along the dome. */
  readonly top: number;
  readonly topTrue: number;
  /** Back: flat, and along the dome. */
  readonly back: number;
  readonly backTrue: number;
  /** Hole as drawn, and the part of it that lies inside the outline. */
  readonly hole: number;
  readonly holeInside: number;
}

export interface BodyPlan {
  readonly hand: "right" | "left";
  /** Edge of the body, anticlockwise, starting at the tail on the centreline. */
  readonly outline: PlaneCurve;
  readonly outlinePolygon: Polygon;
  /** The edge before the cutaway was taken out; the same record as `outline` if there is none. */
  readonly fullOutline: PlaneCurve;
  readonly cutaway: CutawayReport | null;
  /** Tail to neck end along the centreline, m; the neck end lies at (length, 0). */
  readonly length: number;
  readonly hole: PlaneCurve;
  /** The part of the hole that lies inside the body. */
  readonly holePolygon: Polygon;
  readonly holeMeetsEdge: boolean;
  /** The top as it is cut: the hole is removed even where it breaks the edge. */
  readonly topRegion: PlateRegion;
  readonly backRegion: PlateRegion;
  /** Stretches of the body's edge that lie in the hole: there the side is scooped and the lining interrupted. */
  readonly openEdge: readonly Polyline[];
  readonly areas: BodyAreas;
  /** Cavity between the inner faces: before and after taking off what stands in the box, m3. */
  readonly grossVolume: number;
  readonly netVolume: number;
}
