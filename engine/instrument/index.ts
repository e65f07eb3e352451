export type * from "./build.ts";
export { type CheckedInstrument, checkInstrument } from "./checkInstrument.ts";
export type { Issue } from "./issue.ts";
export { instrumentJsonSchema } from "./jsonSchema.ts";
export { largestDocument, type ParsedInstrument, parseInstrument } from "./parseInstrument.ts";
export { type Realisation, realise } from "./realise/realise.ts";
export type { InstrumentDocument } from "./schema/document.ts";
