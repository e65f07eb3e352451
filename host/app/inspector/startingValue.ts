import type { Json } from "../bench/index.ts";
import { kindOf, type Shape } from "./shape.ts";

/** What a value starts as when it is added: the schema's own examples, as little as the document needs. */
export function startingValue(shape: Shape): Json {
  switch (shape.is) {
    case "fixed":
      return shape.value;
    case "word":
      return shape.words[0] ?? "";
    case "quantity":
    case "text":
    case "day":
    case "number":
      return shape.example as Json;
    case "uncertain":
      return startingValue(shape.alone);
    case "row":
      return Array.isArray(shape.example) ? (shape.example as Json) : shape.items.map(startingValue);
    case "list":
      return Array.from({ length: shape.least }, () => startingValue(shape.item));
    case "group": {
      const needed = shape.members.filter(({ optional }) => !optional);
      // A group of which nothing is needed would be empty: then its first field is meant.
      const members = needed.length > 0 ? needed : shape.members.slice(0, 1);
      return Object.fromEntries(members.map((member) => [member.key, startingValue(member.shape)]));
    }
    case "choice":
      return startingValue(shape.forms[0]!.group);
    case "forms":
      return startingValue(shape.forms[0]!);
  }
}

/**
 * A value turned into another form of its choice: what both forms have stays, the rest starts from the examples. `hints`
 * are better starts than the examples, from what was there.
 */
export function switchedValue(
  shape: Shape & { readonly is: "choice" },
  value: Json,
  kind: string,
  hints: { readonly [key: string]: Json } = {},
): Json {
  const group = shape.forms.find((form) => form.kind === kind)?.group;
  if (group === undefined) throw new Error(`no form "${kind}"`);
  const before = shape.forms.find((form) => form.kind === kindOf(value))?.group;
  const old = (value ?? {}) as { readonly [key: string]: Json };
  const kept = (key: string): Json | undefined => {
    const [was, is] = [before, group].map((g) => g?.members.find((member) => member.key === key)?.shape);
    return was !== undefined && is !== undefined && was.is === is.is ? old[key] : undefined;
  };
  return Object.fromEntries(
    group.members.flatMap(({ key, optional, shape: member }) => {
      if (key === "kind") return [["kind", kind]];
      const start = kept(key) ?? hints[key];
      if (start !== undefined) return [[key, start]];
      return optional ? [] : [[key, startingValue(member)]];
    }),
  );
}
