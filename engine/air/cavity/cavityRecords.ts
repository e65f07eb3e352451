/** What comes out of the cavity: plain records of typed arrays that pass through a worker. */
import type { analysePattern, SparseSymmetric } from "#engine/numerics";
import type { AirProperties } from "../airProperties.ts";

/** Part codes of the cavity's wall. */
export const wallParts = { top: 0, back: 1, side: 2, aperture: 3 } as const;

/** The inner faces. Triangles run anticlockwise seen from outside the air: their normals point out of the cavity. */
export interface CavityWall {
  /** x, y, z by wall node, m. */
  readonly nodes: Float64Array;
  /** 3 wall nodes by triangle. Each curved face of the elements is cut into 4 or 8 of these: for drawing and locating. */
  readonly triangles: Uint32Array;
  /** By triangle: see `wallParts`. */
  readonly part: Uint8Array;
  /** Field node of each wall node. */
  readonly fieldNode: Uint32Array;
  /** Quadratic faces for exact integrals: 9 wall nodes by face (side and scoop, 3 x 3) or 6 (top, back, hole). */
  readonly faces: readonly WallFace[];
}

export interface WallFace {
  /** 6 (triangle: corners, then the middle of the edge after each) or 9 (3 x 3, along then up) wall nodes. */
  readonly nodes: Uint32Array;
  readonly part: number;
}

/** The elements' matrices over all nodes: stiffness integral of grad psi grad psi (m), mass integral of psi psi (m3). */
export interface CavityField {
  readonly n: number;
  /** m3: gross. */
  readonly volume: number;
  readonly stiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  /** Order of elimination of their common pattern. */
  readonly analysis: ReturnType<typeof analysePattern>;
  /** 1/m2: stiffness + shift x mass is what is factored. */
  readonly shift: number;
  /** count x n: the modes at all nodes, integral psi2 dV = gross volume (psi_0 = 1). */
  readonly modes: Float64Array;
  /** count: (omega_n/c)2, 1/m2. */
  readonly lambda: Float64Array;
}

/** How the air flows through the opening: a few patterns of normal flow over its panels, out of the body. */
export interface CavityAperture {
  readonly count: number;
  /** Panels of the opening, thin along its edge: 4 corners x, y, z (12 by panel). */
  readonly corners: Float64Array;
  /** x, y, z by panel, on the inner face. */
  readonly centroids: Float64Array;
  /** Out of the body, x, y, z by panel. */
  readonly normals: Float64Array;
  readonly areas: Float64Array;
  /**
   * count x panels: part of each pattern's flow through each panel (m3/s per unit coordinate, even over the panel).
   * Pattern 0 answers an even pressure over the opening and carries unit flow; the others carry no net flow.
   */
  readonly flow: Float64Array;
  /** count x n: the patterns as loads on the field's nodes. */
  readonly loads: Float64Array;
  /** count x modes: integral of psi_n times the pattern. */
  readonly coupling: Float64Array;
  /** count x count, kg/m4, inner (beyond the listed modes) + wall + outer. */
  readonly inertance: Float64Array;
  readonly inner: Float64Array;
  readonly wall: Float64Array;
  readonly outer: Float64Array;
  /** The inertance with the least and the greatest outer end: no flange and an endless one, or those of `withOuterEnd`. */
  readonly range: { readonly low: Float64Array; readonly high: Float64Array };
  /** count x count: viscous resistance of the edge is this times sqrt(omega), Pa s/m3 per sqrt(rad/s). */
  readonly viscous: Float64Array;
}

export interface CavityModes {
  readonly count: number;
  /** rad/s ascending, hole closed; omega[0] = 0 is the even pressure. */
  readonly omega: Float64Array;
  /** m3: integral of psi_n2 over the net volume. */
  readonly volume: Float64Array;
  /**
   * Losses of mode n in the walls' boundary layers, s^-1/2: its compliance is (1 + (1 - i) heat_n w^-1/2) times the ideal
   * one, its mass (1 + (1 - i) friction_n w^-1/2) times. heat_0 is the even pressure's.
   */
  readonly heat: Float64Array;
  readonly friction: Float64Array;
  readonly leak: number;
  /** m3, by the elements: all between the faces, and without the solids. */
  readonly grossVolume: number;
  readonly netVolume: number;
  readonly wall: CavityWall;
  /** count x wall nodes: psi_n, mean square 1 over the volume. */
  readonly pressure: Float64Array;
  /** null: a closed box. */
  readonly aperture: CavityAperture | null;
  readonly field: CavityField;
  readonly air: AirProperties;
}

/** Motions of some structure as flow into the field's nodes: see `wallFlow`. */
export interface WallFlow {
  readonly count: number;
  /** count x wall nodes: integral of the node's function times the outward normal motion, m2 per unit motion. */
  readonly loads: Float64Array;
  /** count x modes: S_n, the integral of psi_n times the outward normal motion. */
  readonly coupling: Float64Array;
}
