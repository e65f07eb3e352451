import type { OrthotropicWood, SpeciesRecord } from "./wood.ts";

/**
 * The Poisson ratio nuRL that goes with nuLR by reciprocity (symmetry of the compliance):
 *   nuRL / ER = nuLR / EL
 * Tabulated nuRL and nuTL are hard to measure and break this by tens of per cent (WH-ELASTIC says so): never loaded.
 */
export function reciprocalPoisson(nuLR: number, EL: number, ER: number): number {
  return (nuLR * ER) / EL;
}

/**
 * What makes a plate's constants impossible, in words; empty if they are sound. The stiffness is positive definite when
 * all moduli are positive and nuLR nuRL < 1, that is nuLR < sqrt(EL/ER).
 */
export function woodFaults(wood: OrthotropicWood): readonly string[] {
  const faults: string[] = [];
  const { loss } = wood;
  const positive = {
    density: wood.density,
    EL: wood.EL,
    ER: wood.ER,
    GLR: wood.GLR,
    GLT: wood.GLT,
    GRT: wood.GRT,
  };
  for (const [name, value] of Object.entries(positive)) {
    if (!(value > 0 && Number.isFinite(value))) faults.push(`${name} is not above zero`);
  }
  for (const [name, value] of Object.entries({
    L: loss.L,
    R: loss.R,
    LR: loss.LR,
    transverse: loss.transverse,
  })) {
    if (!(value >= 0 && value < 1)) faults.push(`the loss factor ${name} is not within 0 to 1`);
  }
  if (faults.length > 0) return faults;
  const limit = Math.sqrt(wood.EL / wood.ER);
  if (!(Math.abs(wood.nuLR) < limit)) {
    faults.push(
      `a Poisson ratio of ${wood.nuLR} needs |nuLR| below ${limit.toPrecision(3)}, the root of EL/ER`,
    );
  }
  return faults;
}

/**
 * Compliance of the solid wood between the normal stresses along L, R, T (3 x 3, row by row, 1/Pa), the reciprocal
 * ratios derived: S_LL = 1/EL, S_LR = -nuLR/EL, S_RT = -nuRT/ER and so on.
 */
export function normalCompliance(s: SpeciesRecord): Float64Array {
  const lr = -s.nuLR.value / s.EL.value;
  const lt = -s.nuLT.value / s.EL.value;
  const rt = -s.nuRT.value / s.ER.value;
  return Float64Array.of(1 / s.EL.value, lr, lt, lr, 1 / s.ER.value, rt, lt, rt, 1 / s.ET.value);
}
