/** Loss factors (tangent of the loss angle) of the elastic constants of a wood. */
export interface WoodLoss {
  /** of EL */
  readonly L: number;
  /** of ER */
  readonly R: number;
  /** of GLR (twist and in-plane shear) */
  readonly LR: number;
  /** of GLT and GRT (transverse shear) */
  readonly transverse: number;
}

/**
 * Elastic plate of wood cut on the quarter: L along the grain, R across it in the plane, T through the thickness.
 * The Poisson ratio is nuLR = -(strain along R)/(strain along L) under stress along L; nuRL follows by reciprocity.
 */
export interface OrthotropicWood {
  /** kg/m3, with the water in it */
  readonly density: number;
  /** Pa */
  readonly EL: number;
  readonly ER: number;
  readonly nuLR: number;
  /** Pa */
  readonly GLR: number;
  readonly GLT: number;
  readonly GRT: number;
  readonly loss: WoodLoss;
}

/** How a value was come by: read in its source, quoted from memory, derived by a formula, or assumed. */
export type Provenance = "read" | "memory" | "derived" | "assumed";

/** A number with its origin and its coefficient of variation between trees (standard deviation over mean). */
export interface SourcedValue {
  readonly value: number;
  readonly source: string;
  readonly how: Provenance;
  /** Coefficient of variation, dimensionless. */
  readonly spread: number;
  /** What was assumed, or what to beware of. */
  readonly note?: string;
}

/** A species as the tables give it, at 12 % moisture; SI. */
export interface SpeciesRecord {
  readonly name: string;
  readonly scientific: string;
  readonly density: SourcedValue;
  readonly EL: SourcedValue;
  readonly ER: SourcedValue;
  readonly ET: SourcedValue;
  readonly nuLR: SourcedValue;
  readonly nuLT: SourcedValue;
  readonly nuRT: SourcedValue;
  readonly GLR: SourcedValue;
  readonly GLT: SourcedValue;
  readonly GRT: SourcedValue;
  readonly loss: {
    readonly L: SourcedValue;
    readonly R: SourcedValue;
    readonly LR: SourcedValue;
    readonly transverse: SourcedValue;
  };
  /** Shrinkage from green to oven-dry, fractions of the green dimension; null if not tabulated. */
  readonly shrinkage: { readonly radial: SourcedValue; readonly tangential: SourcedValue } | null;
  /** Modulus of rupture, Pa; null if not tabulated. */
  readonly modulusOfRupture: SourcedValue | null;
  /** Moisture content (fraction) at which strength curves meet the green strength, for eq. 5-3. */
  readonly intersectionMoisture: SourcedValue;
}
