/**
 * A structure at a few hundred unknowns that still answers changes of its ribs, thicknesses and woods.
 *
 *   u = V z,  V = [ rigid motions | nominal elastic modes | corrections, a block by parameter | probes, a block by parameter ]
 *   K(p) = K0 + sum over parameters of dK(p),  M(p) and the loss likewise
 *
 * A parameter is a FACTOR on a nominal value (1: nominal). dK(p) is the change of the affected elements alone, projected on
 * V at the knots and interpolated between (a polynomial through the knots and zero at 1: exact for a rib's height but for
 * its torsion and shear share). Terms of different parameters are added: what is neglected is the product of two changes in
 * the same element (a rib's height on a plate whose thickness changes too moves its eccentricity by half the change).
 */

import type { SparseSymmetric } from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import type { Panel } from "../panel.ts";
import type { ShellMesh } from "../shellMesh.ts";

/** A plate of the structure: its panel on its mesh, and how its own motions (6 by node, then ribs' turns) hang on the rows. */
export interface ReduciblePlate {
  readonly name: "top" | "back";
  readonly panel: Panel;
  readonly mesh: ShellMesh;
  readonly motions: MotionMap;
}

/** What the reduced model needs of a structure. */
export interface ReducibleStructure {
  readonly n: number;
  readonly stiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  readonly lossStiffness: SparseSymmetric;
  readonly plates: readonly ReduciblePlate[];
}

/** Matrices over some rows of the structure (row[k] of its k-th unknown): the change of the affected elements. */
export interface StructureChange {
  readonly row: Uint32Array;
  readonly stiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  readonly lossStiffness: SparseSymmetric;
}

/** A parameter to be prepared: the structure's changes at some factors other than 1. */
export interface ReducedParameter {
  readonly id: string;
  readonly knots: readonly { readonly factor: number; readonly change: StructureChange }[];
  /** Corrections and probes wanted for it. */
  readonly corrections: number;
  readonly probes: number;
}

export interface ReducedBlock {
  readonly parameter: string;
  /** Columns of V: corrections from..to-1, its probes probeFrom..probeTo-1. */
  readonly from: number;
  readonly to: number;
  readonly probeFrom: number;
  readonly probeTo: number;
}

/** Projected change of one parameter; symmetric matrices packed by lower triangle, row by row: count (count + 1) / 2 each. */
export interface ReducedTerm {
  readonly parameter: string;
  readonly factors: Float64Array;
  readonly stiffness: readonly Float64Array[];
  readonly mass: readonly Float64Array[];
  readonly loss: readonly Float64Array[];
}

/** Plain data. All matrices packed like the terms'. */
export interface ReducedModel {
  readonly n: number;
  /** Columns of V: rigid + modes + corrections + probes. */
  readonly count: number;
  readonly rigidCount: number;
  readonly modeCount: number;
  /** rad2/s2, ascending, of the nominal elastic modes. */
  readonly values: Float64Array;
  readonly blocks: readonly ReducedBlock[];
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
  readonly loss: Float64Array;
  readonly terms: readonly ReducedTerm[];
  /** count x n, M0-orthonormal within modes and each block against the modes. */
  readonly vectors: Float64Array;
}

/** A change: factors by parameter; what is not named is nominal. */
export type ReducedPoint = readonly { readonly parameter: string; readonly factor: number }[];

/** The structure at a changed point. */
export interface ReducedSolution {
  /** Columns of V that took part, rigid motions and probes not among them. */
  readonly columns: Uint32Array;
  readonly count: number;
  /** rad2/s2, ascending. */
  readonly values: Float64Array;
  /** count x columns, M(p)-normalised. */
  readonly coordinates: Float64Array;
  /** count x count: phi' K_loss(p) phi. */
  readonly loss: Float64Array;
  /** Relative error of each frequency, estimated from the residual on the probes. */
  readonly error: Float64Array;
}
