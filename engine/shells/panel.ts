/**
 * What a panel is made of: a plate of wood in plan, its dome, ribs, glued patches and the way its edge is held.
 *
 * Frame: plan (x, y); w and z positive OUTWARD of the plate; the reference surface is the plate's mid-surface.
 * Grain angles run from +x, anticlockwise seen from outside. SI throughout.
 */
import type { DomeSpec, Polygon, Polyline } from "#engine/geometry";

/** Loss factors (dimensionless) of the complex elastic constants E (1 + i loss). */
export interface WoodLoss {
  /** Of EL. */ readonly L: number;
  /** Of ER. */ readonly R: number;
  /** Of the in-plane shear modulus GLR. */ readonly LR: number;
  /** Of the transverse shear moduli GLT and GRT. */ readonly transverse: number;
}

/** A sheet of orthotropic material in its own axes: L along the grain, R across it in the plane, T normal. */
export interface PlyMaterial {
  readonly density: number;
  readonly EL: number;
  readonly ER: number;
  /** -strain R / strain L under stress along L; nuRL = nuLR ER / EL. */ readonly nuLR: number;
  readonly GLR: number;
  readonly GLT: number;
  readonly GRT: number;
  readonly loss: WoodLoss;
  /** How its free size follows moisture and heat; absent: it keeps its size. */
  readonly movement?: Movement;
  /** Free strain now; absent: none. */
  readonly growth?: Growth;
}

/** Free strain along and across the grain, in the plane. */
export interface Growth {
  readonly along: number;
  readonly across: number;
}

/** Free strain for each unit of moisture content (mass of water over dry mass) and for each kelvin. */
export interface Movement {
  readonly moisture: Growth;
  readonly heat: Growth;
}

/** Material of a rib: EL along it, G for its bending shear and torsion, ET across its footprint. */
export interface RibMaterial {
  readonly density: number;
  readonly EL: number;
  readonly G: number;
  /** Young's modulus across the rib; if absent EL / 20 (about the middle of the Wood Handbook's ET/EL). */
  readonly ET?: number;
  /** As of a sheet's material: along the rib and across its width. */
  readonly movement?: Movement;
  readonly growth?: Growth;
  readonly loss?: { readonly L: number; readonly G: number; readonly T: number };
}

export type Side = "inside" | "outside";

/** A rib (brace) of rectangular section glued on one face over its full width and length, square-cut ends. */
export interface PanelRib {
  /** Centre line in plan, 2 or more points, inside the region. */
  readonly path: Polyline;
  readonly width: number;
  /** Height above the plate's face against the fraction of plan length, linear between, s rising from 0 to 1. */
  readonly heights: readonly (readonly [s: number, height: number])[];
  readonly material: RibMaterial;
  readonly side: Side;
  /** What results call it. */
  readonly name?: string;
  /** Height of the brace as cut over that of the rectangle that stands for it; absent: 1. */
  readonly fullHeight?: number;
}

/** A flat piece (bridge, bridge plate, graft) glued on one face. */
export interface PanelPatch {
  readonly polygon: Polygon;
  readonly thickness: number;
  readonly wood: PlyMaterial;
  readonly grainAngle: number;
  readonly side: Side;
  /** What results call it. */
  readonly name?: string;
}

/** Cured finish on the plate's outside, where no patch is glued on: it weighs, stiffens and loses. */
export interface PanelFilm {
  readonly thickness: number;
  readonly material: PlyMaterial;
}

/**
 * How the outer edge is held; hole edges are always free.
 * free: nothing. hinged: the three translations zero, every rotation free (soft support). clamped: all six zero,
 * and with them the end face of a rib that runs to the edge.
 * elastic: w is zero; springs per metre of edge act on the rotation about the edge's tangent (N m/rad per m) and on the
 * in-plane motion normal and tangential to the edge (N/m per m).
 * `open` names stretches of the outline (plan chains on it) where an elastic edge is free.
 */
export type EdgeSupport =
  | { readonly kind: "free" }
  | { readonly kind: "hinged" }
  | { readonly kind: "clamped" }
  | {
      readonly kind: "elastic";
      readonly rotation: number;
      readonly normal: number;
      readonly tangential: number;
      readonly open: readonly Polyline[];
    };

/** Uniform thickness, or caliper spots [x, y, thickness] blended by inverse square distance. */
export type ThicknessField =
  | number
  | { readonly spots: readonly (readonly [x: number, y: number, value: number])[] };

export interface Panel {
  readonly outline: Polygon;
  readonly holes: readonly Polygon[];
  readonly dome: DomeSpec | null;
  readonly wood: PlyMaterial;
  readonly thickness: ThicknessField;
  readonly grainAngle: number;
  readonly ribs: readonly PanelRib[];
  readonly patches: readonly PanelPatch[];
  readonly film: PanelFilm | null;
  readonly edge: EdgeSupport;
}
