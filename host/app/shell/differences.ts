import type { Json } from "../bench/index.ts";

/** A place where two documents say different things; null: nothing is said there. */
export interface Difference {
  readonly path: string;
  readonly a: string | null;
  readonly b: string | null;
}

/** Every place where they differ, in the order of the documents; lists are held against each other place by place. */
export function differencesOf(a: Json | undefined, b: Json | undefined, path = ""): readonly Difference[] {
  if (a === b) return [];
  if (isList(a) && isList(b))
    return Array.from({ length: Math.max(a.length, b.length) }, (_, i) =>
      differencesOf(a[i], b[i], `${path}[${i}]`),
    ).flat();
  if (isRecord(a) && isRecord(b))
    return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) =>
      differencesOf(a[key], b[key], path === "" ? key : `${path}.${key}`),
    );
  return [{ path, a: said(a), b: said(b) }];
}

function isList(value: Json | undefined): value is readonly Json[] {
  return Array.isArray(value);
}

function isRecord(value: Json | undefined): value is { readonly [key: string]: Json } {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function said(value: Json | undefined): string | null {
  if (value === undefined) return null;
  return typeof value === "string" ? value : JSON.stringify(value);
}
