import type { Json } from "../bench/index.ts";
import { entryName, fieldName } from "./fieldNames.ts";
import { formOf, type Shape } from "./shape.ts";

/** A place of the document that can be found by words. */
export interface FoundField {
  readonly path: string;
  readonly keys: readonly string[];
  readonly names: readonly string[];
  readonly shape: Shape;
  readonly value: Json | undefined;
  readonly optional: boolean;
  readonly holder: Json;
}

/**
 * Every field of a document as it stands: each value that is there, and what may be added to it, in the schema's order.
 * Nothing of the schema that can be in this document is left out: a group that is not there stands for its fields.
 */
export function allFields(shape: Shape, document: Json): readonly FoundField[] {
  const found: FoundField[] = [];
  const walk = (field: FoundField): void => {
    const { path, keys, names, shape: at, value, holder } = field;
    if (value === undefined) {
      found.push(field);
      return;
    }
    const inside = (
      step: string,
      key: string | null,
      name: string,
      inner: Shape,
      v: Json | undefined,
      optional: boolean,
    ) =>
      walk({
        path: step.startsWith("[") || path === "" ? path + step : `${path}.${step}`,
        keys: key === null ? keys : [...keys, key],
        names: [...names, name],
        shape: inner,
        value: v,
        optional,
        holder: value,
      });
    switch (at.is) {
      case "group": {
        const group = value as { readonly [key: string]: Json };
        for (const { key, optional, shape: inner } of at.members)
          inside(key, key, fieldName([...keys, key]), inner, group[key], optional);
        return;
      }
      case "choice":
      case "forms": {
        const form = formOf(at, value);
        // One line for a plain form; a group is walked into.
        if (form === null || !["group", "choice"].includes(form.is)) found.push(field);
        else walk({ ...field, shape: form, holder });
        return;
      }
      case "list": {
        const list = value as readonly Json[];
        if (list.length === 0) found.push(field);
        for (const [i, entry] of list.entries()) {
          const own = (entry as { readonly name?: Json } | null)?.name;
          inside(
            `[${i}]`,
            null,
            typeof own === "string" ? own : entryName(keys.at(-1) ?? "", i),
            at.item,
            entry,
            false,
          );
        }
        return;
      }
      case "fixed":
        if (keys.at(-1) !== "kind") found.push(field);
        return;
      default:
        found.push(field);
    }
  };
  walk({ path: "", keys: [], names: [], shape, value: document, optional: false, holder: null });
  return found;
}

/** Fields in whose names, help or value all the words stand; those whose names hold them all come first. */
export function fieldsFor(words: string, fields: readonly FoundField[]): readonly FoundField[] {
  const asked = words
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  if (asked.length === 0) return [];
  const named = ({ names }: FoundField): boolean => {
    const text = names.join(" ").toLowerCase();
    return asked.every((word) => holds(text, word));
  };
  const found = fields.filter(({ names, shape, value, path }) => {
    const said = value === undefined ? "" : JSON.stringify(value);
    const text = [...names, shape.about, said].join(" ").toLowerCase();
    return asked.every(
      (word) => (word.includes(".") && path.toLowerCase().includes(word)) || holds(text, word),
    );
  });
  return [...found.filter(named), ...found.filter((field) => !named(field))];
}

/** A number is meant as a whole: "ray 3" is not ray 13, nor 35 mm. */
function holds(text: string, word: string): boolean {
  return /^\d+$/.test(word) ? new RegExp(`(?<![\\d.])${word}(?![\\d.])`).test(text) : text.includes(word);
}
