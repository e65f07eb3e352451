import { type CheckedInstrument, checkInstrument } from "./checkInstrument.ts";

type Json = Record<string, unknown>;
export type Change = readonly [path: readonly (string | number)[], value: unknown];

interface Examples {
  /** An example with some places set to other values, checked. */
  readonly checked: (name: string, ...changes: readonly Change[]) => CheckedInstrument;
  /** The same; throws what stops it. */
  readonly good: (name: string, ...changes: readonly Change[]) => CheckedInstrument & { ok: true };
}

/** The examples' documents by `text`, which the test reads: nothing here knows files. */
export function changedExamples(text: (name: string) => string): Examples {
  const checked = (name: string, ...changes: readonly Change[]): CheckedInstrument => {
    const document = JSON.parse(text(name)) as Json;
    for (const [path, value] of changes) {
      let at: Json = document;
      for (const key of path.slice(0, -1)) at = at[key] as Json;
      const last = path[path.length - 1]!;
      if (value === undefined) delete at[last];
      else at[last] = value;
    }
    return checkInstrument(JSON.stringify(document, null, 2));
  };
  return {
    checked,
    good: (name, ...changes) => {
      const result = checked(name, ...changes);
      if (!result.ok)
        throw new Error(result.issues.map(({ path, message }) => `${path}: ${message}`).join("\n"));
      return result;
    },
  };
}
