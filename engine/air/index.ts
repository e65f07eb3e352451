/** Air: its properties, the sound hole as a mass of air with losses, and the air that the plates carry along outside. */
export { type AirProperties, type AirState, airProperties } from "./airProperties.ts";
export { type FlowSources, type HoleConductance, holeConductance } from "./holeConductance.ts";
export { type HoleFlow, type HoleFlowInput, holeFlow } from "./holeFlow.ts";
export { type MovingSurface, outerAirMass } from "./outerAirMass.ts";
