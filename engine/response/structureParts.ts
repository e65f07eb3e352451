import type { AirProperties } from "#engine/air";
import type { Polygon } from "#engine/geometry";
import type { BodyModes } from "#engine/shells";

/** Where one string leaves the saddle: plan place (body frame) and height over the top's mid-surface there, m. */
export interface Crown {
  readonly string: number;
  readonly x: number;
  readonly y: number;
  readonly height: number;
}

/** The strip of the top that lies over side and lining, m: within `width` of the outline. */
export interface RimStrip {
  readonly outline: Polygon;
  readonly width: number;
}

/**
 * What of the structure the coupling needs: `BodyModes` of shells, whose first C points are the plan places of the crowns (height
 * 0) and whose next C are the strings' places at the nut; P = rigidCount + count coordinates, rigid motions first.
 */
export type StructureModes = Omit<BodyModes, "springs" | "rigidMass" | "neck">;

/** Stations along the fingerboard at which the far ends of the strings are told: the section moves as a whole. */
export interface NeckLine {
  /** m, body frame, ascending. */
  readonly x: Float64Array;
  /** P x stations x 3: at the height of the frets' crowns over the centreline along z, turn about x, and along y. */
  readonly motion: Float64Array;
}

/**
 * The air inside by its modes with the hole closed, psi_0 = 1 the even pressure. Mode n has the pressure a_n psi_n; S_n of a
 * motion is the integral over the inner faces of psi_n times the normal motion out of the cavity (m2 per unit motion).
 */
export interface CavityAir {
  readonly count: number;
  /** rad/s, ascending from 0. */
  readonly omega: Float64Array;
  /** m3: integral of psi_n^2 over the net volume. */
  readonly volume: Float64Array;
  /** s^-1/2: boundary layers of the walls; compliance (1 + (1 - i) heat w^-1/2), mass (1 + (1 - i) friction w^-1/2). */
  readonly heat: Float64Array;
  readonly friction: Float64Array;
  /** m3/(s Pa) through seams, by the even pressure. */
  readonly leak: number;
  /** P x count: S_n of the structure's coordinates. */
  readonly wall: Float64Array;
  /** P + A coordinates squared, kg: mass of the cavity's modes beyond the listed ones (its A x A block is not read: see `inertance`). */
  readonly residual: Float64Array;
  /** count x 2: square of the correlation of psi_n with the place along and across the body: 1 for a plain slope that way. */
  readonly slope: Float64Array;
  /** null: a closed box. */
  readonly aperture: ApertureAir | null;
  readonly air: AirProperties;
}

/** A patterns of normal flow out of the opening, m3/s per unit coordinate: pattern 0 carries unit flow, the others none. */
export interface ApertureAir {
  readonly count: number;
  /** A x count: integral of psi_n times the pattern. */
  readonly coupling: Float64Array;
  /** A x A, kg/m4: inner field beyond the listed modes, wall, outer field at low frequency. */
  readonly inertance: Float64Array;
  /** The same with the least and the greatest outer end. */
  readonly range: { readonly low: Float64Array; readonly high: Float64Array };
  /** A x A: resistance over sqrt(w). */
  readonly viscous: Float64Array;
}

/**
 * Air outside for the P + A coordinates (structure, then aperture patterns), F frequencies, in the form of the boundary integral:
 * Z = w^2 resistance + i w mass, both even in w. Pressures per unit acceleration, with the travel time taken out.
 */
export interface OuterAir {
  readonly count: number;
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  readonly soundSpeed: number;
  /** F x (P + A)^2. */
  readonly resistance: Float64Array;
  readonly mass: Float64Array;
  /** F x L x (P + A), times exp(+i k travel). */
  readonly pressureRe: Float64Array;
  readonly pressureIm: Float64Array;
  /** m, by listener: the first is 1 m along the top's normal from the saddle, the second the player's ear. */
  readonly travel: Float64Array;
}

/** One string between crown and nut. */
export interface StringLine {
  /** N/m: EA/L. */
  readonly stiffness: number;
  /** Unit vector from crown to nut, body frame. */
  readonly direction: readonly [x: number, y: number, z: number];
}

/** Everything that `coupleStructure` couples. */
export interface StructureParts {
  readonly body: StructureModes;
  /** P x P each, where the coordinates are not modes (a reduced basis); null: they are, with unit mass and omega^2. */
  readonly matrices: { readonly stiffness: Float64Array; readonly mass: Float64Array } | null;
  /** In the order of the body's points. */
  readonly crowns: readonly Crown[];
  /** By crown; null: strings off (damped and slack). */
  readonly strings: readonly StringLine[] | null;
  /** Where strings are stopped; null or absent: their far ends are not asked for. */
  readonly neck?: NeckLine | null;
  /** null: no air inside (a free top, a box without its back). */
  readonly cavity: CavityAir | null;
  /** null: none, as in textbook models. */
  readonly outside: OuterAir | null;
  /** Of the room. */
  readonly air: AirProperties;
  /** What of the top lies over side and lining: left out where the moving top is measured. null: nothing. */
  readonly topRim: RimStrip | null;
  /** Bending stiffness sqrt(D1 D2) and mass per area of the top, ribs smeared, for the mean over many modes; null: not wanted. */
  readonly topMean: { readonly stiffness: number; readonly massPerArea: number } | null;
  /** Hz: the structure's modes are complete up to here. */
  readonly basisToHz: number;
}
