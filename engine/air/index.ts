/** Air: its properties, the field in the box with its opening, and the field outside the body. */
export { type AirProperties, airProperties } from "./airProperties.ts";
export { cavityModes } from "./cavity/cavityModes.ts";
export type { CavityModes } from "./cavity/cavityRecords.ts";
export { cavityResidual } from "./cavity/cavityResidual.ts";
export type { CavitySpec } from "./cavity/cavitySpec.ts";
export { stoppedFlow, withOuterEnd } from "./cavity/outerEnd.ts";
export { wallFlow } from "./cavity/wallFlow.ts";
export type {
  ExteriorField,
  ExteriorOperators,
  ExteriorOptions,
  ExteriorSpec,
  ExteriorSurface,
} from "./exterior/exterior.ts";
export { exteriorAnswer } from "./exterior/exteriorAnswer.ts";
export { exteriorAt } from "./exterior/exteriorAt.ts";
export { exteriorField } from "./exterior/exteriorField.ts";
export { exteriorFrequencies } from "./exterior/exteriorFrequencies.ts";
export { exteriorOperators } from "./exterior/exteriorOperators.ts";
export { exteriorSurface } from "./exterior/exteriorSurface.ts";
export { listeningSphere } from "./exterior/listeningSphere.ts";
export { apertureFlows, panelFlows } from "./exterior/panelFlows.ts";
export { staticOuterInertance } from "./exterior/staticOuterInertance.ts";
