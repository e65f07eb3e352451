import type { Json } from "../bench/index.ts";
import { valueAt } from "./fieldDeeds.ts";
import type { Shape } from "./shape.ts";
import { startingValue } from "./startingValue.ts";

/**
 * What a field starts as in this very document, where the schema's example cannot know it: as many notes as strings, as many
 * weights as frets, today's date. `keys` lead to the field, indices left out.
 */
export function startFor(keys: readonly string[], shape: Shape, document: Json, today: string): Json {
  const frets = Number(valueAt(document, "fingerboard.frets") ?? 20);
  const strings = (valueAt(document, "strings.set") ?? []) as readonly { readonly note?: Json }[];
  switch (keys.join(".")) {
    case "strings.tunings":
      return [{ name: "another tuning", notes: strings.map(({ note }) => note ?? "E4") }];
    case "fingerboard.centsTable":
      return Array.from({ length: frets }, (_, i) => 100 * (i + 1));
    case "setup.weights":
      return Array.from({ length: frets }, (_, i) => (i < 12 ? 1 : 0.5));
    case "neck.head.posts":
      return strings.map((_, i) => {
        const row = Math.min(i, strings.length - 1 - i);
        const side = i < strings.length / 2 ? -1 : 1;
        return [`${44 + 40 * row} mm`, `${side * (18 - 7 * row)} mm`];
      });
  }
  return dated(withHoldings(keys, startingValue(shape), document), today);
}

/** Parts that name other parts start with names that are there. */
function withHoldings(keys: readonly string[], start: Json, document: Json): Json {
  const plate = keys[0] ?? "";
  const braces = (valueAt(document, `${plate}.braces`) ?? []) as readonly { readonly name?: Json }[];
  const [one, other] = braces.map(({ name }) => name ?? "");
  if (one === undefined || other === undefined) return start;
  const group = start as { readonly [key: string]: Json };
  if (keys[1] === "hub" && keys.length === 2) return { ...group, braces: [one, other] };
  if (keys[1] === "crossings") return Array.isArray(start) ? start : { ...group, braces: [one, other] };
  return start;
}

function dated(value: Json, today: string): Json {
  if (typeof value !== "object" || value === null || Array.isArray(value) || !("date" in value)) return value;
  return { ...(value as { readonly [key: string]: Json }), date: today };
}
