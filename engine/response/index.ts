/** Response: plates, rim, cavity and hole coupled into one body, and what it does at the strings and at one metre. */
export type { BodyParts } from "./bodyParts.ts";
export type { BodyResponse, ImaginaryShapes, ModeName, ModePressure } from "./bodyResponse.ts";
export { coupleBody } from "./coupleBody.ts";
export { type CoupledStructure, inCoordinates } from "./coupledStructure.ts";
export { coupleStructure, solveCoupling } from "./coupleStructure.ts";
export { crownMobility, crownView } from "./crownMobility.ts";
export { wholeShape } from "./drawnMotion.ts";
export { forcedResponse } from "./forcedResponse.ts";
export { pressureAt, pressureTable } from "./modePressure.ts";
export { type Coupling, prepareCoupling } from "./prepareCoupling.ts";
export { type ResponseCurve, responseCurve } from "./responseCurve.ts";
export type {
  ApertureAir,
  CavityAir,
  OuterAir,
  StringLine,
  StructureModes,
  StructureParts,
} from "./structureParts.ts";
export { structureResidual } from "./structureResidual.ts";
export { type ThirdShare, upperThirdShare } from "./upperThirdShare.ts";
