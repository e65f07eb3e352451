import type { WireName } from "./design.ts";

/** A value with what it is known to (one standard deviation over the value) and where from: a key of docs/sources.json, or "memory". */
interface Sourced {
  readonly value: number;
  readonly spread: number;
  readonly source: string;
}

/**
 * Least tensile strength of drawn wire of diameter d, Pa: coefficient (d / 1 mm)^-exponent, for d within `range` (m).
 * Thinner wire has been drawn further and is stronger.
 */
interface TensileLaw {
  readonly coefficient: number;
  readonly exponent: number;
  readonly range: readonly [number, number];
  readonly source: string;
}

/** A drawn wire. */
interface Wire {
  /** kg/m3. */
  readonly density: Sourced;
  /** Young's modulus, Pa. */
  readonly stiffness: Sourced;
  /** Null where no law was at hand: such a wire may wrap but not carry. */
  readonly tensile: TensileLaw | null;
  /** Friction and bending loss factor of a bare string, a value inside the range of published strings (memory; a factor 2 either way). */
  readonly friction: number;
  readonly bending: number;
}

const memory = (value: number, spread: number, of: string): Sourced => ({
  value,
  spread,
  source: `memory: ${of}`,
});

export const wires: Readonly<Record<WireName, Wire>> = {
  steel: {
    density: {
      value: 7850,
      spread: 0.006,
      source: "A228: usual design value; a database and published unit weights say 7800",
    },
    stiffness: { value: 207e9, spread: 0.05, source: "A228: usual design value; 190 to 207 GPa is quoted" },
    tensile: {
      coefficient: 2211e6,
      exponent: 0.145,
      range: [0.1e-3, 6.5e-3],
      source: "SHIGLEY (memory): music wire; within 2 % of the least strengths of A228",
    },
    friction: 1.5e-4,
    bending: 2e-3,
  },
  "stainless-steel": {
    density: memory(7900, 0.01, "spring wire of type 302"),
    stiffness: memory(193e9, 0.05, "spring wire of type 302"),
    tensile: {
      coefficient: 1867e6,
      exponent: 0.146,
      range: [0.3e-3, 2.5e-3],
      source: "SHIGLEY (memory): stainless wire of type 302",
    },
    friction: 1.5e-4,
    bending: 2e-3,
  },
  "phosphor-bronze": {
    density: memory(8800, 0.01, "92 % copper, 8 % tin"),
    stiffness: memory(110e9, 0.05, "92 % copper, 8 % tin"),
    tensile: {
      coefficient: 1000e6,
      exponent: 0,
      range: [0.1e-3, 0.6e-3],
      source: "SHIGLEY (memory): phosphor-bronze wire",
    },
    friction: 3e-4,
    bending: 4e-3,
  },
  "bronze-80-20": {
    density: memory(8670, 0.01, "80 % copper, 20 % zinc (a brass)"),
    stiffness: memory(110e9, 0.05, "80 % copper, 20 % zinc (a brass)"),
    tensile: null,
    friction: 3e-4,
    bending: 4e-3,
  },
  nickel: {
    density: memory(8900, 0.01, "pure nickel"),
    stiffness: memory(207e9, 0.05, "pure nickel"),
    tensile: null,
    friction: 3e-4,
    bending: 4e-3,
  },
  "nickel-plated-steel": {
    density: memory(7870, 0.01, "steel under a film of nickel"),
    stiffness: memory(207e9, 0.05, "steel under a film of nickel"),
    tensile: null,
    friction: 1.5e-4,
    bending: 2e-3,
  },
};

/** Losses of a wound string, where turns rub on each other and on the core (memory: published sets; a factor 2 either way). */
export const woundLoss = { friction: 3e-4, bending: 2e-2 } as const;
