import type { Json } from "../bench/index.ts";

/** The document with every text, number and so on passed through `change`; paths as "top.braces.2.height". */
export function mapped(value: Json, change: (leaf: Json, path: string) => Json, path = ""): Json {
  const at = (key: string | number) => (path === "" ? String(key) : `${path}.${key}`);
  if (isList(value)) return value.map((own, i) => mapped(own, change, at(i)));
  if (isRecord(value))
    return Object.fromEntries(Object.entries(value).map(([key, own]) => [key, mapped(own, change, at(key))]));
  return change(value, path);
}

export function isRecord(value: Json | undefined): value is { readonly [key: string]: Json } {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

export function isList(value: Json | undefined): value is readonly Json[] {
  return Array.isArray(value);
}

/** "476 mm" times a factor, or plus a length of the same unit, to `step` of the unit; anything else is our own mistake. */
export function changedLength(text: Json, change: (value: number) => number, step: number): string {
  const found = typeof text === "string" ? /^(-?\d+(?:\.\d+)?) (mm|in)$/.exec(text) : null;
  if (found === null) throw new Error(`${JSON.stringify(text)} is not a length that a rule can change`);
  const decimals = Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
  const value = Math.round(change(Number(found[1])) / step) * step;
  return `${Number(value.toFixed(decimals + 1))} ${found[2]}`;
}
