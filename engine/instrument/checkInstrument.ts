import type { Realised } from "./build.ts";
import type { Issue } from "./issue.ts";
import { parseInstrument, splitPath } from "./parseInstrument.ts";
import { realise } from "./realise/realise.ts";
import type { InstrumentDocument } from "./schema/document.ts";

export type CheckedInstrument =
  | ({ readonly ok: true; readonly document: InstrumentDocument } & Realised)
  | { readonly ok: false; readonly issues: readonly Issue[] };

/** From text to a build: read, checked against the schema, realised, its fit checked; every issue with its line. */
export function checkInstrument(text: string): CheckedInstrument {
  const parsed = parseInstrument(text);
  if (!parsed.ok) return parsed;
  const realised = realise(parsed.document);
  const placed = (issues: readonly Issue[]): Issue[] =>
    issues.map((issue) => ({ ...issue, ...(parsed.placeOf(splitPath(issue.path)) ?? {}) }));
  if (!realised.ok) return { ok: false, issues: placed(realised.issues) };
  return { ...realised, watch: placed(realised.watch), document: parsed.document };
}
