/** Response: the structure coupled with the air inside and outside, and what it does at the strings and where it is heard. */
export type { BodyResponse, ModePressure } from "./bodyResponse.ts";
export { inCoordinates, turnedStructure } from "./coupledStructure.ts";
export { coupleStructure, solveCoupling } from "./coupleStructure.ts";
export { crownMobility, crownView } from "./crownMobility.ts";
export { farEnd } from "./farEnd.ts";
export { forcedStructure } from "./forcedStructure.ts";
export { pressureTable } from "./modePressure.ts";
export { type Coupling, prepareCoupling } from "./prepareCoupling.ts";
export { type ResponseCurve, responseCurve } from "./responseCurve.ts";
export { rigidWallAir } from "./rigidWallAir.ts";
export type {
  CavityAir,
  NeckLine,
  OuterAir,
  StructureModes,
  StructureParts,
} from "./structureParts.ts";
export { structureResidual } from "./structureResidual.ts";
export { type ThirdShare, upperThirdShare } from "./upperThirdShare.ts";
