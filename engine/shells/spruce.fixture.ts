import type { PlyMaterial } from "./panel.ts";

/** A spruce-like sheet of our own invention, for the tests of this module. */
export const spruce: PlyMaterial = {
  density: 400,
  EL: 11e9,
  ER: 0.85e9,
  nuLR: 0.37,
  GLR: 0.7e9,
  GLT: 0.66e9,
  GRT: 40e6,
  loss: { L: 0.006, R: 0.02, LR: 0.015, transverse: 0.02 },
};
