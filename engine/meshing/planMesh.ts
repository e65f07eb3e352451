import type { Polygon, Polyline } from "#engine/geometry";

/** What is to be meshed, in plan. Lengths in m; the turning sense of the polygons is free. */
export interface PlanRegion {
  /** Outer edge: straight edges between the points given. */
  readonly outline: Polygon;
  /** Openings, inside the outline and clear of it and of each other. */
  readonly holes: readonly Polygon[];
  /** Chains that mesh edges must follow: braces, patch edges. They may cross, touch and overlap. */
  readonly lines: readonly Polyline[];
}

/** A neighbourhood that wants smaller triangles. */
export interface SizeNear {
  /** Points or chain, x,y by point. */
  readonly points: Polyline | Polygon;
  /** Edge length wanted on the chain, m. */
  readonly size: number;
  /** Distance from the chain up to which that size is kept, m; beyond it the size grows by the grading. */
  readonly reach: number;
}

export interface MeshOptions {
  /** Edge length wanted, m. */
  readonly size: number;
  readonly sizeNear?: readonly SizeNear[];
  /** How fast the size may grow with distance, m per m; 0.25 if not given. Allowed 0.05 to 1. */
  readonly grading?: number;
}

/** A triangulation in plan. Every edge of a line or of a boundary loop is an edge of the triangulation. */
export interface PlanMesh {
  /** x,y by node, m. */
  readonly nodes: Float64Array;
  /** 3 nodes by triangle, anticlockwise. */
  readonly triangles: Uint32Array;
  /** Closed loops of nodes, all anticlockwise, the first not repeated: the outline first, then the holes in their order. */
  readonly boundary: readonly Uint32Array[];
  /** Node chain of each input line, in its direction, from its start to its end. */
  readonly lines: readonly Uint32Array[];
}

export interface MeshFault {
  readonly code:
    | "bad-index"
    | "flipped"
    | "not-conforming"
    | "area"
    | "boundary"
    | "line"
    | "unused-node"
    | "double-node";
  readonly detail: string;
}

export interface MeshQuality {
  /** Smallest and largest angle of any triangle, rad. */
  readonly minAngle: number;
  readonly maxAngle: number;
  /** m2 */
  readonly area: number;
  readonly nodes: number;
  readonly triangles: number;
}

export interface PlanLocation {
  readonly triangle: number;
  /** Weights of the triangle's three nodes, summing to 1. */
  readonly barycentric: readonly [number, number, number];
}
