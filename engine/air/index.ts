/** Air: its properties, the sound hole as a mass of air with losses, and the air that the plates carry along outside. */
export { type AirProperties, airProperties } from "./airProperties.ts";
export { cavityModes } from "./cavity/cavityModes.ts";
export type { CavityModes } from "./cavity/cavityRecords.ts";
export { cavityResidual } from "./cavity/cavityResidual.ts";
export type { CavitySpec } from "./cavity/cavitySpec.ts";
export { stoppedFlow, withOuterEnd } from "./cavity/outerEnd.ts";
export { wallFlow } from "./cavity/wallFlow.ts";
export type {
  ExteriorField,
  ExteriorOptions,
  ExteriorSpec,
  ExteriorSurface,
} from "./exterior/exterior.ts";
export { exteriorAt } from "./exterior/exteriorAt.ts";
export { exteriorField } from "./exterior/exteriorField.ts";
export { exteriorFrequencies } from "./exterior/exteriorFrequencies.ts";
export { exteriorSurface } from "./exterior/exteriorSurface.ts";
export { listeningSphere } from "./exterior/listeningSphere.ts";
export { apertureFlows, panelFlows } from "./exterior/panelFlows.ts";
export { staticOuterInertance } from "./exterior/staticOuterInertance.ts";
