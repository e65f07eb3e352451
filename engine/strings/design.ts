/**
 * Losses of a string in the form of WOODHOUSE-2004 (weights of the terms from memory):
 *   eta(omega, k) = [ T (friction + air/omega) + EI bending k^2 ] / (T + EI k^2)
 * friction and bending are loss factors, air is in rad/s. A constant Q is { friction: 1/Q, bending: 1/Q, air: 0 }.
 */
export interface StringLoss {
  readonly friction: number;
  readonly bending: number;
  readonly air: number;
}

/** What the mechanics of a string needs to know of its construction. */
export interface StringDesign {
  /** kg/m. */
  readonly linearDensity: number;
  /** EI, N m2: of the core and of the wraps as springs beside it, which slide on it. */
  readonly bendingStiffness: number;
  /** EA, N: nearly all of it the core's, because a wrap gives way like a spring. */
  readonly axialStiffness: number;
  /** N, straight pull on the core; a kink, a ball-end twist or corrosion takes some of it (common practice: 10 to 20 %). */
  readonly breakingForce: number;
  readonly loss: StringLoss;
  /** Outer diameter, m. */
  readonly diameter: number;
  /** One standard deviation over the value, engineering judgement unless the value was weighed. */
  readonly spread: StringSpread;
}

export interface StringSpread {
  readonly linearDensity: number;
  readonly bendingStiffness: number;
  readonly axialStiffness: number;
  readonly breakingForce: number;
  /** Divide and multiply by this. */
  readonly lossFactor: number;
}

/** Wires that cores and wraps are drawn from; values in materials.data.ts. */
export type WireName =
  | "steel"
  | "phosphor-bronze"
  | "bronze-80-20"
  | "nickel"
  | "nickel-plated-steel"
  | "stainless-steel";

export interface WrapLayer {
  /** Diameter of the round wrap wire before winding, m. */
  readonly diameter: number;
  readonly material: WireName;
}

/** How a string is made. Diameters in m. */
export type StringConstruction =
  | { readonly kind: "plain"; readonly diameter: number; readonly material: WireName }
  | {
      readonly kind: "wound";
      /** Of a hexagonal core: across the flats. */
      readonly coreDiameter: number;
      readonly coreShape: "round" | "hex";
      readonly coreMaterial?: WireName;
      /** Innermost first; one to three, close-wound. */
      readonly wraps: readonly WrapLayer[];
    };

/** A string stretched between two hinges: what its partials depend on. Length in m, kg/m, N, N m2. */
export interface StretchedString {
  readonly length: number;
  readonly linearDensity: number;
  readonly tension: number;
  readonly bendingStiffness: number;
  readonly loss: StringLoss;
}
