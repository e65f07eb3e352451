import { toJSONSchema } from "zod";
import { instrumentSchema } from "./schema/document.ts";

/** The published JSON Schema (draft 2020-12) of an instrument document, made from the one schema that also checks it. */
export function instrumentJsonSchema(): Record<string, unknown> {
  return toJSONSchema(instrumentSchema, { target: "draft-2020-12", io: "input" }) as Record<string, unknown>;
}
