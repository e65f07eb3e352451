/**
 * The body's mesh, matrices and modes as plain data.
 *
 *  nodes    shell nodes first (0 .. shellNodes - 1), then frame nodes (neck, rods), then one reference node by block
 *  motions  6 by node: ux uy uz rx ry rz in the BODY frame; after them one turn by rib node (edgeBeam.ts)
 *  rows     the unknowns. motion = sum of weight x row (`BodyLayout`): a free node's motion is its own row; a node in a
 *           block hangs on the block's six rows (u = U + Theta x r); a held motion hangs on none
 */
import type { SparseSymmetric } from "#engine/numerics";
import type { Panel } from "../panel.ts";
import type { ShellMesh } from "../shellMesh.ts";
import type { BodyShellSpec } from "./bodySpec.ts";

/** The shell surface: triangles anticlockwise seen from outside the body. */
export interface BodySurface {
  /** x, y, z by node, m. */
  readonly nodes: Float64Array;
  /** 3 nodes by triangle. */
  readonly triangles: Uint32Array;
  /** By triangle: 0 top, 1 back, 2 side. */
  readonly part: Uint8Array;
}

/** Closed ring of side nodes at one height, anticlockwise seen from the front. */
export type SideRing = Uint32Array;

export interface BodyMesh {
  readonly surface: BodySurface;
  /** Top's own mesh: plan and nodes in the body frame (the top's plate frame is the body frame). */
  readonly top: ShellMesh | null;
  /** Back's own mesh in its plate frame: x, y as in the body, height = -z, outward positive. */
  readonly back: ShellMesh | null;
  /** The panels as meshed: cut back to the side's mid-surface, ribs shortened to what lies on them. */
  readonly topPanel: Panel | null;
  readonly backPanel: Panel | null;
  /** Body node of each node of the top's mesh, of the back's mesh; empty where there is none. */
  readonly topNode: Uint32Array;
  readonly backNode: Uint32Array;
  /** Rings of the side from the top's edge down to the back's edge; empty without sides. */
  readonly sideRings: readonly SideRing[];
}

/** How motions hang on rows, in compressed rows: motion k = sum over p in start[k] .. start[k+1]-1 of weight[p] x[row[p]]. */
export interface MotionMap {
  readonly start: Uint32Array;
  readonly row: Uint32Array;
  readonly weight: Float64Array;
}

export interface BodyLayout {
  readonly shellNodes: number;
  /** x, y, z of every node: shell, frame, blocks. */
  readonly places: Float64Array;
  /** All motions: 6 by node, then the ribs' turns. */
  readonly motions: number;
  /** Rows (unknowns). */
  readonly n: number;
  readonly map: MotionMap;
  /** Node of each row, for the ordering. */
  readonly group: Uint32Array;
  /** Motion that each row is. */
  readonly rowMotion: Uint32Array;
  /** Body motion of each motion of the top's and the back's own matrices (6 by plan node, then turns rib by rib). */
  readonly topMotion: Uint32Array;
  readonly backMotion: Uint32Array;
  /** Node of each block's six rows, in the order of the spec; frame nodes of the neck from its start to its end. */
  readonly blockNode: Uint32Array;
  readonly neckNode: Uint32Array;
  readonly tongueNode: Uint32Array;
  /** Nodes of each rod, from end to end. */
  readonly rodNode: readonly Uint32Array[];
  /** Node on which each node hangs rigidly, or -1 where it stands on its own. */
  readonly hangsOn: Int32Array;
}

/**
 * Matrices of one part over its own motions (directions of the body frame); all three on one pattern. Top, back and the
 * rest can be made apart (in different workers) and joined.
 *
 * top, back: 6 by node of the plate's own mesh, then the turns of its ribs node by node. rim, neck: 6 by node of `nodes`.
 */
export interface BodyPiece {
  readonly part: "top" | "back" | "rim" | "neck";
  /** Body nodes of a rim's or neck's motions; null for plates, whose motions the layout places. */
  readonly nodes: Uint32Array | null;
  readonly stiffness: SparseSymmetric;
  readonly lossStiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  /** By its motions: volume swept along the outward normal of its own triangles per unit motion. */
  readonly flow: Float64Array;
  /** kg of lining that rides on a plate. */
  readonly liningMass: number;
}

/** A spring as a rank-one term: stiffness (sum of weight x row)2; not in the sparse matrices, which it would fill. */
export interface SpringTerm {
  readonly stiffness: number;
  readonly row: Uint32Array;
  readonly weight: Float64Array;
}

/** Where the entries of a body's pieces go: the pattern of their sum, and by piece the way there. */
export interface JoinPlan {
  readonly n: number;
  readonly colStart: Uint32Array;
  readonly rowIndex: Uint32Array;
  readonly routes: readonly JoinRoute[];
}

/** Entry p of a piece goes to `place`[p] as it is (-1: not so); beside that `factor`[q] times entry[q] goes to spread[q]. */
export interface JoinRoute {
  readonly place: Int32Array;
  readonly entry: Uint32Array;
  readonly spread: Uint32Array;
  readonly factor: Float64Array;
}

export interface BodySystem {
  readonly spec: BodyShellSpec;
  readonly mesh: BodyMesh;
  readonly layout: BodyLayout;
  readonly n: number;
  readonly group: Uint32Array;
  readonly stiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  /** Imaginary part of the complex stiffness. */
  readonly lossStiffness: SparseSymmetric;
  readonly pieces: readonly BodyPiece[];
  /** Body motion of each motion of each piece. */
  readonly pieceMotions: readonly Uint32Array[];
  /** How the pieces' entries come into the matrices: for more matrices of the same pieces. */
  readonly plan: JoinPlan;
  /** Strings, to be added in modal coordinates or as low-rank updates. */
  readonly springs: readonly SpringTerm[];
  readonly totalMass: number;
  /** kg: top, back, sides with linings and blocks, neck with head; point masses go with what carries them. */
  readonly partMass: Float64Array;
  /** 6 x 6: R' M R about the body frame's origin. */
  readonly rigidMass: Float64Array;
  /** By shell node and motion (6 by node): volume swept outward per unit motion, over all three parts. */
  readonly flow: Float64Array;
}

/** Motions of points as sparse rows, six by point (ux uy uz rx ry rz of the point): same form as `MotionMap`. */
export type PointRows = MotionMap;

/** The nodes of the neck's beam and those of the board's clear end, in no order; none without a neck. */
export interface NeckMotions {
  /** nodes x 3. */
  readonly places: Float64Array;
  /** (rigidCount + count) x nodes x 6. */
  readonly motions: Float64Array;
}

/** Elastic modes in vacuo, M-normalised, and what coupling needs. */
export interface BodyModes {
  readonly count: number;
  /** rad/s, ascending. */
  readonly omega: Float64Array;
  /** 6 free, 0 held. */
  readonly rigidCount: number;
  readonly surface: BodySurface;
  /** (rigidCount + count) x nodes x 3: ux uy uz of shell nodes; rigid motions first, M-orthonormal. */
  readonly shapes: Float64Array;
  /** count x count: phi' K_loss phi. */
  readonly loss: Float64Array;
  /** (rigidCount + count) x points x 6. */
  readonly points: Float64Array;
  readonly neck: NeckMotions;
  /** 6P x 6P: elastic static flexibility between the points minus that of the listed modes; symmetric. */
  readonly pointResidual: Float64Array;
  /**
   * count x 4 shares of the kinetic energy: top, back (their masses lumped at the nodes, linings with them), sides with
   * blocks, neck with head.
   */
  readonly energyShare: Float64Array;
  /** (rigidCount + count) x 3: volume swept outward by top, back, sides, m3. */
  readonly volume: Float64Array;
  /** (rigidCount + count) x springs: stretch of each spring of the spec, which the modes themselves leave out. */
  readonly springs: Float64Array;
  readonly mesh: Pick<BodyMesh, "top" | "back" | "topNode" | "backNode">;
  readonly totalMass: number;
  readonly rigidMass: Float64Array;
}
