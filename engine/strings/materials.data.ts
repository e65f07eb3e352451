import type { WireName } from "./design.ts";

/** A drawn wire. Source keys as in docs/sources.json; "memory" where no source was at hand. */
interface Wire {
  /** kg/m3. */
  readonly density: number;
  /** Young's modulus, Pa. */
  readonly stiffness: number;
  /**
   * Least tensile strength of drawn wire of diameter d: strength = coefficient (d / 1 mm)^-exponent, Pa.
   * Null where no law was at hand: such a wire may wrap but not carry.
   */
  readonly tensile: {
    readonly coefficient: number;
    readonly exponent: number;
    readonly range: readonly [number, number];
  } | null;
  /** Friction and bending loss factor, a value inside the range of published strings (memory; a factor 2 either way). */
  readonly friction: number;
  readonly bending: number;
  readonly source: string;
}

/** Density is good to 1 %, stiffness to 5 % (A228 quotes 190 to 207 GPa for music wire). */
export const wires: Readonly<Record<WireName, Wire>> = {
  steel: {
    density: 7850,
    stiffness: 207e9,
    tensile: { coefficient: 2211e6, exponent: 0.145, range: [0.1e-3, 6.5e-3] },
    friction: 1.5e-4,
    bending: 2e-3,
    source: "A228 (usual design values; tensile law of music wire from memory)",
  },
  "stainless-steel": {
    density: 7900,
    stiffness: 193e9,
    tensile: { coefficient: 1867e6, exponent: 0.146, range: [0.3e-3, 2.5e-3] },
    friction: 1.5e-4,
    bending: 2e-3,
    source: "memory: spring wire of type 302",
  },
  "phosphor-bronze": {
    density: 8800,
    stiffness: 110e9,
    tensile: { coefficient: 1000e6, exponent: 0, range: [0.1e-3, 0.6e-3] },
    friction: 3e-4,
    bending: 4e-3,
    source: "memory: 92 % copper, 8 % tin",
  },
  "bronze-80-20": {
    density: 8670,
    stiffness: 110e9,
    tensile: null,
    friction: 3e-4,
    bending: 4e-3,
    source: "memory: 80 % copper, 20 % zinc (a brass)",
  },
  nickel: { density: 8900, stiffness: 207e9, tensile: null, friction: 3e-4, bending: 4e-3, source: "memory" },
  "nickel-plated-steel": {
    density: 7870,
    stiffness: 207e9,
    tensile: null,
    friction: 1.5e-4,
    bending: 2e-3,
    source: "memory: steel under a film of nickel",
  },
};

/** Losses of a wound string, where turns rub on each other and on the core (memory: published sets; a factor 2 either way). */
export const woundLoss = { friction: 3e-4, bending: 2e-2 } as const;
