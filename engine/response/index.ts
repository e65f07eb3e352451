/** Response: plates, rim, cavity and hole coupled into one body, and what it does at the strings and at one metre. */
export type { BackSeat, BodyParts, Cavity, Crown } from "./bodyParts.ts";
export type { BodyResponse, ModeName } from "./bodyResponse.ts";
export { coupleBody } from "./coupleBody.ts";
export { type CrownView, crownMobility, crownView } from "./crownMobility.ts";
export { type ForcedResponse, forcedResponse } from "./forcedResponse.ts";
export { type ResponseCurve, responseCurve } from "./responseCurve.ts";
export { type ThirdShare, upperThirdShare } from "./upperThirdShare.ts";
