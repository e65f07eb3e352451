// biome-ignore lint/correctness/noNodejsModules: read by tests only, which run in Node
import { readFileSync } from "node:fs";
import { type CheckedInstrument, checkInstrument } from "./checkInstrument.ts";
import type { Issue } from "./issue.ts";

type Json = Record<string, unknown>;
export type Change = readonly [path: readonly (string | number)[], value: unknown];

export const names = ["low-radial", "cross-braced", "small-ladder"] as const;

export function exampleText(name: string): string {
  return readFileSync(new URL(`../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
}

/** An example with some places set to other values, checked. */
export function checked(name: string, ...changes: readonly Change[]): CheckedInstrument {
  const document = JSON.parse(exampleText(name)) as Json;
  for (const [path, value] of changes) {
    let at: Json = document;
    for (const key of path.slice(0, -1)) at = at[key] as Json;
    const last = path[path.length - 1]!;
    if (value === undefined) delete at[last];
    else at[last] = value;
  }
  return checkInstrument(JSON.stringify(document, null, 2));
}

export function good(name: string, ...changes: readonly Change[]): CheckedInstrument & { ok: true } {
  const result = checked(name, ...changes);
  if (!result.ok) throw new Error(result.issues.map(({ path, message }) => `${path}: ${message}`).join("\n"));
  return result;
}

export function stops(result: CheckedInstrument): readonly Issue[] {
  return result.ok ? [] : result.issues.filter(({ severity }) => severity === "stop");
}
