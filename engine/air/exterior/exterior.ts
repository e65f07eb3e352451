/** What the outer air is asked and what it answers: plain records of typed arrays that go through a worker. */
import type { Polygon } from "#engine/geometry";
import type { InnerFace } from "../cavity/cavitySpec.ts";

/** The outside of a body, from its plan. Body frame, m. */
export interface ExteriorSpec {
  /** Edge of the body, anticlockwise. */
  readonly outline: Polygon;
  /** Heights of top and back over the plan. */
  readonly top: InnerFace;
  readonly back: InnerFace;
  /**
   * The whole hole in plan; it may cross the edge. `scoop`: how far the side is then cut away below the top, m (0: not at
   * all). null: no hole.
   */
  readonly hole: { readonly polygon: Polygon; readonly scoop: number } | null;
}

/** 0 top, 1 back, 2 side, 3 aperture. */
export type ExteriorPart = 0 | 1 | 2 | 3;

/** A closed surface of flat triangles, anticlockwise seen from outside, so that normals point into the outer air. */
export interface ExteriorSurface {
  /** x,y,z by node, m. */
  readonly nodes: Float64Array;
  /** 3 nodes by triangle. */
  readonly triangles: Uint32Array;
  /** By triangle: 0 top, 1 back, 2 side, 3 aperture. */
  readonly part: Uint8Array;
}

export interface ExteriorOptions {
  /** Hz, ascending, not negative; `exteriorFrequencies` lays them well. */
  readonly frequencies: Float64Array;
  /** x,y,z by point, outside the body, m. */
  readonly listeners: Float64Array;
  readonly density: number;
  readonly soundSpeed: number;
}

/** The outer air of a surface before anything moves (`exteriorOperators`): all arrays are its own. */
export interface ExteriorOperators {
  readonly surface: ExteriorSurface;
  readonly options: ExteriorOptions;
  readonly at: readonly FrequencyOperators[];
}

/** One frequency: all per unit acceleration and density. Matrices row by row; W regular waves, L listeners. */
export interface FrequencyOperators {
  /** Share of the hypersingular equation in the combination: 0 below the body's first inner resonance. */
  readonly combination: number;
  readonly equations: StandingEquations | WholeEquations;
  /** W x panels and W x nodes: what motion and pressure send away as each wave (`regularWaves`). */
  readonly sentByMotion: Float64Array;
  readonly sentByPressure: Float64Array;
  /** 2 L x panels and 2 L x 2 nodes, real rows and then imaginary rows: what reaches the listeners. */
  readonly heardOfMotion: Float64Array;
  readonly heardOfPressure: Float64Array;
}

/**
 * The plain equation with its imaginary part as waves: `standingEquations` tells how they answer.
 */
export interface StandingEquations {
  readonly kind: "standing";
  /** nodes x nodes: L and U of the real part, rows exchanged by `pivot`. */
  readonly factors: Float64Array;
  readonly pivot: Int32Array;
  /** nodes x panels. */
  readonly sources: Float64Array;
  /** nodes x W: pressure that the waves sent away leave on the surface. */
  readonly left: Float64Array;
  /** 2 W x W: waves sent away (minus the real part, then the imaginary one) by what is sent without them. */
  readonly response: Float64Array;
}

/** Both equations combined, complex: real parts, then imaginary parts. */
export interface WholeEquations {
  readonly kind: "whole";
  readonly factors: Float64Array;
  readonly pivot: Int32Array;
  readonly sources: Float64Array;
}

/**
 * The outer air's answer to P patterns of normal velocity, at F frequencies; time as exp(+i omega t).
 * Impedance by its parts, both finite and even in frequency down to 0 Hz: Z = omega^2 r + i omega m.
 */
export interface ExteriorField {
  readonly count: number;
  /** Hz. */
  readonly frequencies: Float64Array;
  readonly soundSpeed: number;
  /** F x P x P: resistance over omega^2, symmetric and positive semidefinite (from the far field). */
  readonly resistance: Float64Array;
  /** F x P x P: mass of air (reactance over omega), symmetric. */
  readonly mass: Float64Array;
  /** x,y,z by listener, m. */
  readonly listeners: Float64Array;
  /** F x L x P: pressure per unit normal ACCELERATION of the pattern, times exp(+i k R), R from the origin of phases. */
  readonly pressureRe: Float64Array;
  readonly pressureIm: Float64Array;
  /** Distance whose travel time is taken out of each listener's pressure, m. */
  readonly travel: Float64Array;
  /** How good the solution is, by frequency. */
  readonly checks: {
    /** Largest |Z_ij - Z_ji| over the largest |Z|, before it is made symmetric. */
    readonly asymmetry: Float64Array;
    /** Largest difference of the work done on the surface from the power sent to infinity, over the largest power. */
    readonly powerMismatch: Float64Array;
    /** Share of the hypersingular equation in the combination: 0 below the body's first inner resonance. */
    readonly combination: Float64Array;
  };
}

/** The outer air at one frequency. */
export interface ExteriorAt {
  /** P x P, N per m/s of pattern: integral of p_j v_i. */
  readonly impedanceRe: Float64Array;
  readonly impedanceIm: Float64Array;
  /** L x P, Pa per m/s of pattern. */
  readonly pressureRe: Float64Array;
  readonly pressureIm: Float64Array;
}
