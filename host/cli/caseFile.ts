import type { Fault } from "./answer.ts";
import { readText } from "./input.ts";

/** A JSON file of the engineer's verbs, or what is wrong with it. */
export function readJson(
  path: string,
): { readonly ok: true; readonly data: unknown } | { readonly ok: false; readonly fault: Fault } {
  const file = readText(path);
  if (!file.ok) return { ok: false, fault: { path: "", message: file.message } };
  try {
    return { ok: true, data: JSON.parse(file.text) };
  } catch (error) {
    const why = (error as Error).message;
    return { ok: false, fault: { path: "", message: `is not JSON: ${why}` } };
  }
}
