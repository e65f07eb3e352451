/** What a maker states about the body in plan and depth, in SI; frames as in docs/conventions.md. */
import type { Point, Polygon } from "./polygon.ts";

/** One widest or narrowest place: full width and distance from the tail along the centreline, m. */
export interface WidthAt {
  readonly width: number;
  readonly station: number;
}

/** How one place of one side departs from the symmetric shape: towards the neck and outward, m. */
export interface PlaceShift {
  readonly along?: number;
  readonly outward?: number;
}

/** Shifts of one side of the body. */
export interface SideShift {
  readonly lowerBout?: PlaceShift;
  readonly waist?: PlaceShift;
  readonly upperBout?: PlaceShift;
}

/** Outline from trade dimensions: the given widths are the widest (waist: narrowest) places of each bout. */
export interface OutlineDimensions {
  readonly kind: "dimensions";
  /** Tail to neck end along the centreline, m. */
  readonly length: number;
  readonly lowerBout: WidthAt;
  readonly waist: WidthAt;
  readonly upperBout: WidthAt;
  /** Radius of the outline on the centreline at the tail, m; null: as the fairest curve falls. */
  readonly tailRadius: number | null;
  /** Radius on the centreline at the neck end, m; null: as the fairest curve falls. */
  readonly neckRadius: number | null;
  readonly asymmetry?: { readonly bass?: SideShift; readonly treble?: SideShift };
}

/** Outline through explicit points, either sense; at least 6. The tail is set on the origin by the maker, not by us. */
export interface OutlinePoints {
  readonly kind: "points";
  readonly points: Polygon;
}

export type OutlineSpec = OutlineDimensions | OutlinePoints;

/**
 * A cutaway beside the neck. Going round from the waist the edge turns through the horn's tip, runs back toward the
 * tail and inward with falling curvature (the spiral edge), passes its deepest place, and rises beside the neck to a
 * rounded corner on the neck line.
 */
export interface CutawaySpec {
  readonly side: "bass" | "treble";
  /** Deepest place of the scoop, from the neck end toward the tail along the centreline, m. */
  readonly depth: number;
  /** Foremost place of the horn, from the neck end toward the tail along the centreline, m. */
  readonly tipSetback: number;
  /** Smallest radius at the horn's tip, m. */
  readonly tipRadius: number;
  /** Distance from the centreline at which the edge meets the neck line (at its rounded corner), m. */
  readonly neckOffset: number;
  /** Least angle between the edge and the centreline where it runs beside the neck, rad; 0 runs parallel to it. */
  readonly neckAngle: number;
  /** Radius of the rounded corner on the neck line, m. */
  readonly cornerRadius: number;
  /** Tightest radius inside the scoop, m; null: as the fairest edge falls. It governs how hard the side must bend. */
  readonly scoopRadius: number | null;
}

/** A sound hole: any closed curve anywhere. */
export type HoleSpec =
  | {
      readonly kind: "ellipse";
      readonly centre: Point;
      /** Half lengths of the two axes, m; equal for a circle. */
      readonly semiAxes: readonly [number, number];
      /** From +x to the first axis, rad. */
      readonly angle: number;
    }
  | { readonly kind: "curve"; readonly points: Polygon };

/** A spherical dome, convex outward: z = sqrt(R^2 - (x-xa)^2 - (y-ya)^2) - R, m. */
export interface DomeSpec {
  readonly radius: number;
  readonly apex: Point;
}

export interface BodySpec {
  readonly outline: OutlineSpec;
  readonly cutaway: CutawaySpec | null;
  readonly hole: HoleSpec;
  readonly topDome: DomeSpec | null;
  readonly backDome: DomeSpec | null;
  /** Between the inner faces of top and back, at the tail and at the neck end, on the centreline, m. */
  readonly depthAtTail: number;
  readonly depthAtNeck: number;
  readonly topThickness: number;
  readonly backThickness: number;
  /** Side thickness taken off the cavity all round, m; 0 if not given. */
  readonly sideThickness?: number;
  /** Volume of what stands inside the box (braces, linings, blocks), m3; 0 if not given. */
  readonly solidVolume?: number;
  readonly hand: "right" | "left";
}
