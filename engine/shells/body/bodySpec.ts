/**
 * The whole body as one structure: what is to be built, as plain data in the body frame (x tail to neck, y bass side,
 * z out of the top; z = 0 at the mean height of the top's mid-surface along its edge). SI throughout.
 *
 * Every part may be absent (null or an empty list): a free top, a top on the rim without a back, a closed box without a
 * neck, a finished or a strung instrument are the same record with more or less in it.
 */
import type { Polygon, Polyline } from "#engine/geometry";
import type { Panel, PanelFilm, PlyMaterial } from "../panel.ts";

export type Triple = readonly [x: number, y: number, z: number];

/** The strip of wood that joins a plate to the side: `width` glued to the plate, `height` glued to the side. */
export interface LiningSpec {
  /** Along the plate, measured from the side's inner face. */
  readonly width: number;
  /** Along the side, measured from the plate's inner face. */
  readonly height: number;
  /** Grain along the edge (L), R across. */
  readonly material: PlyMaterial;
  /** Share of its stiffness along the edge that its kerfs leave: 1 solid, about 1/6 kerfed. */
  readonly alongShare: number;
}

export interface SidePly {
  readonly material: PlyMaterial;
  readonly thickness: number;
  /** From the edge's direction (tail to neck horizontal tangent), towards the top; 0: grain along the edge. */
  readonly grainAngle: number;
}

export interface SidesSpec {
  /** Outer outline of the body in plan; the plates' outlines follow it except at scooped stretches. */
  readonly outline: Polygon;
  /** Outside first. */
  readonly plies: readonly SidePly[];
  readonly film: PanelFilm | null;
  readonly topLining: LiningSpec | null;
  readonly backLining: LiningSpec | null;
  /** Stretches of the outline where the hole meets the edge: there is no top and no top lining. */
  readonly open: readonly Polyline[];
}

/** A solid block: every shell node in or on its box moves with it as one rigid body. */
export interface BlockSpec {
  readonly name: string;
  readonly centre: Triple;
  /** Along x, y, z. */
  readonly size: Triple;
  /** kg, spread evenly over the box for its own moments of inertia. */
  readonly mass: number;
}

/** The neck's section at one place of its axis. */
export interface NeckStation {
  /** Fraction of the length from `from` to `to`, 0 to 1, rising. */
  readonly s: number;
  /** Axial stiffness, N. */
  readonly EA: number;
  /** Bending stiffness for deflection across the board's plane (heel to face), N m2. */
  readonly EIz: number;
  /** Bending stiffness for deflection sideways, in the board's plane, N m2. */
  readonly EIy: number;
  /** Torsional stiffness, N m2. */
  readonly GJ: number;
  /** Shear stiffness k G A, N; 0 or absent: rigid in shear. */
  readonly GA?: number;
  /** kg/m */
  readonly massPerLength: number;
  /** Height of the section's centroid over the straight axis from `from` to `to`, along the board's normal, m. */
  readonly centre: number;
  /** Polar moment of inertia about the centroid per length, kg m; absent: that of a solid round of that mass left out. */
  readonly polar?: number;
}

/** A tapered beam fixed to a block (or to the shell node nearest its start where `attach` is null). */
export interface NeckSpec {
  readonly from: Triple;
  readonly to: Triple;
  readonly stations: readonly NeckStation[];
  /** Loss factors of E and G along the neck. */
  readonly lossE: number;
  readonly lossG: number;
  /** The head: a rigid mass on the neck's end. kg, body frame. */
  readonly headMass: number;
  readonly headCentre: Triple;
  /** Edges of the box that stands for the head (own moments of inertia), along x, y, z; absent: a point. */
  readonly headSize?: Triple;
  readonly attach: string | null;
  /** The end of the board standing clear of the top: a cantilever from the neck's start backwards over the body, or null. */
  readonly tongue: { readonly to: Triple; readonly stations: readonly NeckStation[] } | null;
}

/** A round tube between two places: an end inside a block joins it, else the side node nearest. */
export interface RodSpec {
  readonly name: string;
  readonly from: Triple;
  readonly to: Triple;
  readonly diameter: number;
  readonly bore: number;
  /** Young's modulus along the rod. */
  readonly stiffness: number;
  readonly density: number;
}

export interface PointMassSpec {
  readonly name: string;
  readonly mass: number;
  readonly at: Triple;
}

/**
 * A place whose motion is asked for or on which a force acts; it moves rigidly with the nearest point of its part.
 * top/back: the plan point (x, y) of the plate, `height` over its mid-surface, outward.
 */
export type PointRef =
  | { readonly part: "top" | "back"; readonly x: number; readonly y: number; readonly height: number }
  | { readonly part: "neck"; readonly at: Triple }
  | { readonly part: "block"; readonly name: string; readonly at: Triple }
  | { readonly part: "side"; readonly at: Triple };

/** A spring along the line between two points: a string. */
export interface SpringSpec {
  readonly a: PointRef;
  readonly b: PointRef;
  /** N/m */
  readonly stiffness: number;
}

export interface BodyShellSpec {
  /** Edge kind must be "free"; plans in the body's (x, y). */
  readonly top: Panel | null;
  readonly back: Panel | null;
  /** Depth between the plates' inner faces at the edge, at x = 0 and at x = length (linear between, straight on beyond). */
  readonly heights: { readonly depthAtTail: number; readonly depthAtNeck: number; readonly length: number };
  readonly sides: SidesSpec | null;
  readonly blocks: readonly BlockSpec[];
  readonly neck: NeckSpec | null;
  readonly rods: readonly RodSpec[];
  readonly masses: readonly PointMassSpec[];
  readonly springs: readonly SpringSpec[];
  /** Free in space, or held at the neck's end and at the tail (the node or block nearest the origin). */
  readonly support: "free" | "neck and tail";
}
