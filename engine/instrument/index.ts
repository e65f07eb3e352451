/** The instrument document: its schema, its checks, and the build it is realised into. */
export type * from "./build.ts";
export type * from "./buildPlate.ts";
export type * from "./buildSetup.ts";
export { type CheckedInstrument, checkInstrument } from "./checkInstrument.ts";
export { instrumentJsonSchema } from "./jsonSchema.ts";
export { inMillimetres } from "./realise/planFault.ts";
export { statedBrace } from "./realise/plate.ts";
