/**
 * A structure at a few hundred unknowns that still answers changes of its ribs, thicknesses and woods.
 *
 *   u = V z,  V = [ rigid motions | nominal elastic modes | answers to given loads | by parameter: corrections, probes ]
 *   K(p) = K0 + sum over parameters of dK(p),  M(p) and the loss likewise
 *
 * A parameter is a FACTOR on a nominal value (1: nominal). dK(p) is the change of the affected elements alone, projected on
 * V at the knots and interpolated between (a polynomial through the knots and zero at 1: exact for a rib's height but for
 * its torsion and shear share). Terms of different parameters are added: what is neglected is the product of two changes in
 * the same element (a rib's height on a plate whose thickness changes too moves its eccentricity by half the change).
 */
import type { SparseSymmetric } from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import type { Laminate } from "../laminate.ts";
import type { Panel } from "../panel.ts";
import type { ShellMesh } from "../shellMesh.ts";

/** A plate of the structure: its panel on its mesh, and how its own motions (6 by node, then ribs' turns) hang on the rows. */
export interface ReduciblePlate {
  readonly panel: Panel;
  readonly mesh: ShellMesh;
  readonly motions: MotionMap;
  /** Rise per metre along x of the plane that the dome stands on. */
  readonly slope: number;
  /** Laminates of its triangles as it is; null: not at hand. */
  readonly own: readonly Laminate[] | null;
  /** Laminates of a mesh's triangles for a changed panel. */
  readonly laminates: (panel: Panel, mesh: ShellMesh) => readonly Laminate[];
  /** Mass (kg) that rides on edges of the mesh, for a changed panel: always the same edges. */
  readonly overhang: (panel: Panel) => readonly EdgeMass[];
}

export interface EdgeMass {
  readonly i: number;
  readonly j: number;
  readonly mass: number;
}

/** What the reduced model needs of a structure: its matrices on n rows. */
export interface ReducibleStructure {
  readonly stiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  readonly lossStiffness: SparseSymmetric;
}

/** The change of some elements: matrices over the motions they touch, all on one pattern, and how these hang on the rows. */
export interface StructureChange {
  readonly motions: MotionMap;
  readonly stiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  readonly lossStiffness: SparseSymmetric;
}

/** A parameter to be prepared: the structure's changes at some factors other than 1. */
export interface ReducedParameter {
  readonly id: string;
  readonly knots: readonly { readonly factor: number; readonly changes: readonly StructureChange[] }[];
  /** Loads (each n) whose static answers are its corrections, as many as these; absent: those that `correctionLoads` finds. */
  readonly loads?: Float64Array;
  /** Corrections and probes wanted for it; none: it makes do with those of the parameter it borrows from. */
  readonly corrections: number;
  readonly probes: number;
  readonly borrows: string | null;
  /** Parameters whose corrections its term acts on as well, besides its own: those it may be changed together with. */
  readonly sees: readonly string[];
}

/** Nominal motions: rigid ones and elastic modes ascending, M-orthonormal, each n by vector. */
export interface NominalModes {
  readonly rigidCount: number;
  /** rad2/s2, of the elastic modes. */
  readonly values: Float64Array;
  /** (rigidCount + values) x n. */
  readonly vectors: Float64Array;
}

/** Columns of V that belong to one parameter: corrections from .. probes - 1, probes from `probes` to `end` - 1. */
export interface ReducedBlock {
  readonly parameter: string;
  readonly from: number;
  readonly probes: number;
  readonly end: number;
}

/** Projected change of one parameter at each of its knots; symmetric matrices packed by lower triangle, row by row. */
export interface ReducedTerm {
  readonly parameter: string;
  readonly borrows: string | null;
  readonly sees: readonly string[];
  readonly factors: Float64Array;
  /** Columns of V that the matrices are about, ascending; on the others the term counts as zero. */
  readonly columns: Uint32Array;
  readonly stiffness: readonly Float64Array[];
  readonly mass: readonly Float64Array[];
  readonly loss: readonly Float64Array[];
}

/** Plain data. All matrices packed like the terms', over all columns. */
export interface ReducedModel {
  /** Columns of V. */
  readonly count: number;
  readonly rigidCount: number;
  /** rad2/s2, ascending, of the nominal elastic modes. */
  readonly values: Float64Array;
  /** Columns that answer the given loads follow the modes. */
  readonly loadCount: number;
  readonly blocks: readonly ReducedBlock[];
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
  readonly loss: Float64Array;
  readonly terms: readonly ReducedTerm[];
  /** count x n: V, each block M0-orthonormal in itself and to the modes. */
  readonly vectors: Float64Array;
  /** loads x count: V' f of each given load. */
  readonly loads: Float64Array;
}

/** A changed place: factors by parameter; what is not named is nominal. */
export type ReducedPoint = readonly { readonly parameter: string; readonly factor: number }[];

/** The structure at a changed place. */
export interface ReducedSolution {
  /** Columns of V that took part (rigid motions, modes, loads' answers, corrections of what changed). */
  readonly columns: Uint32Array;
  /** Elastic modes given. */
  readonly count: number;
  /** rad2/s2, ascending. */
  readonly values: Float64Array;
  /** (rigidCount + count) x columns: M(p)-orthonormal, rigid motions first. */
  readonly coordinates: Float64Array;
  /** Relative error of each frequency, estimated from the residual on the probes of what changed. */
  readonly error: Float64Array;
  /** loads x columns: static answer to each load, without rigid motion. */
  readonly answers: Float64Array;
}
