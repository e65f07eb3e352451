/** Turns what the schema found into issues in plain words: path, found, allowed, example, nearest key. */
import { type core, globalRegistry } from "zod";
import { nearestWord } from "#engine/units";
import type { Issue } from "./issue.ts";
import type { FaultWords } from "./schema/field.ts";

type Path = readonly PropertyKey[];
type Schema = core.$ZodType;
type RawIssue = core.$ZodIssue;

/** "top.braces[2].width". */
export function pathText(path: Path): string {
  return path.reduce<string>(
    (text, key) =>
      typeof key === "number" ? `${text}[${key}]` : text === "" ? String(key) : `${text}.${String(key)}`,
    "",
  );
}

/** A found value in a few characters. */
export function shown(value: unknown): string {
  if (value === undefined) return "nothing";
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === "object" && value !== null) return "a group of keys";
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

/** Unknown keys of one group are not named one by one beyond this many. */
const mostKeys = 20;

/** All issues, in the order of the schema. `data` is the whole document that was checked. */
export function explainAll(issues: readonly RawIssue[], schema: Schema, data: unknown): Issue[] {
  return issues.flatMap((issue) => explain(issue, [], schema, data));
}

function explain(issue: RawIssue, before: Path, schema: Schema, data: unknown): Issue[] {
  const path = [...before, ...issue.path];
  const found = valueAt(data, path);
  const at = schemaAt(schema, path, data);
  const card = (code: string, message: string, rest: Partial<Issue> = {}): Issue => ({
    code,
    path: pathText(path),
    message,
    found: shown(found),
    ...words(at),
    ...rest,
    severity: "stop",
  });

  switch (issue.code) {
    case "custom": {
      const params = issue.params as FaultWords | undefined;
      if (params?.fault === undefined) return [card("wrong", issue.message)];
      return [card(params.fault, issue.message, { allowed: params.allowed, example: params.example })];
    }
    case "unrecognized_keys": {
      const known = at === null ? [] : keysOf(at, found);
      const named = issue.keys.slice(0, mostKeys).map((key) => unknownKey([...path, key], key, known));
      const unnamed = issue.keys.length - named.length;
      if (unnamed === 0) return named;
      return [
        ...named,
        card("unknown-key", `There are ${unnamed} more keys here that are not known.`, {
          allowed: known.join(", "),
        }),
      ];
    }
    case "invalid_union": {
      if (issue.errors.length === 0) {
        const options = "options" in issue && Array.isArray(issue.options) ? issue.options.map(String) : [];
        return [found === undefined ? missing(path, at, options) : wrongWord(path, found, options)];
      }
      const fitting = issue.errors
        .filter((errors) => !errors.some((e) => e.path.length === 0 && e.code === "invalid_type"))
        .sort((a, b) => strangeness(a) - strangeness(b))[0];
      if (fitting !== undefined) return fitting.flatMap((inner) => explain(inner, path, schema, data));
      return [found === undefined ? missing(path, at, []) : wrongType(path, found, at)];
    }
    case "invalid_value": {
      const options = issue.values.map(String);
      if (found === undefined) return [missing(path, at, options)];
      const wrong = wrongWord(path, found, options);
      // Where a word is only one of the forms, the field's card tells of the others too.
      return [at !== null && defOf(at).options !== undefined ? { ...wrong, ...words(at) } : wrong];
    }
    case "invalid_type":
      return [found === undefined ? missing(path, at, []) : wrongType(path, found, at)];
    case "too_big":
      return [
        card("too-many", `There are ${Array.isArray(found) ? found.length : "too many"} entries here.`, {
          allowed: `at most ${issue.maximum}`,
        }),
      ];
    case "too_small":
      return [
        card("too-few", `There are only ${Array.isArray(found) ? found.length : 0} entries here.`, {
          allowed: `at least ${issue.minimum}`,
        }),
      ];
    default:
      return [card("wrong", issue.message)];
  }
}

/** How little a value looks like one form of a choice: keys it should not have, and keys it lacks. */
function strangeness(errors: readonly RawIssue[]): number {
  return errors.reduce((sum, e) => {
    if (e.code === "unrecognized_keys") return sum + e.keys.length;
    return sum + (e.code === "invalid_type" && e.input === undefined ? 1 : 0);
  }, 0);
}

/** Keys that a maker may look for and that are refused on purpose. */
const refusedKeys: Readonly<Record<string, Omit<Issue, "path" | "severity">>> = {
  "fingerboard.partialFrets": {
    code: "partial-frets",
    message:
      "Partial frets are refused: every slot is cut right across the board, and offsets, buzz and the slot card count on a fret under every string.",
    allowed: "whole frets, in equal temperament or by a table of cents",
    example: '"centsTable": [100, 200, 300, ...]',
    remedy:
      "For other intervals give a table of cents (fingerboard.centsTable), which moves a whole fret for all strings; for one string give it an offset at nut or saddle.",
  },
};

function unknownKey(path: Path, key: string, known: readonly string[]): Issue {
  const refused = Object.hasOwn(refusedKeys, pathText(path)) ? refusedKeys[pathText(path)] : undefined;
  if (refused !== undefined)
    return { ...refused, path: pathText(path), found: JSON.stringify(key), severity: "stop" };
  const near = nearestWord(key, known);
  return {
    code: "unknown-key",
    path: pathText([...path.slice(0, -1), key.slice(0, 60)]),
    message: `The key "${key.slice(0, 60)}" is not known here${near === null ? "." : `; did you mean "${near}"?`}`,
    found: JSON.stringify(key.slice(0, 60)),
    allowed: known.length === 0 ? "no further key" : known.join(", "),
    ...(near === null ? {} : { example: JSON.stringify(near) }),
    severity: "stop",
  };
}

function missing(path: Path, at: Schema | null, options: readonly string[]): Issue {
  return {
    code: "missing",
    path: pathText(path),
    message: `"${String(path.at(-1) ?? "the document")}" is missing.`,
    found: "nothing",
    ...words(at),
    ...(options.length > 0
      ? { allowed: `one of: ${options.join(", ")}`, example: JSON.stringify(options[0]) }
      : {}),
    severity: "stop",
  };
}

function wrongWord(path: Path, found: unknown, options: readonly string[]): Issue {
  const near = typeof found === "string" ? nearestWord(found, options) : null;
  return {
    code: "unknown-word",
    path: pathText(path),
    message: `${shown(found)} is none of the words known here${near === null ? "." : `; did you mean "${near}"?`}`,
    found: shown(found),
    allowed: options.length === 1 ? JSON.stringify(options[0]) : `one of: ${options.join(", ")}`,
    example: JSON.stringify(near ?? options[0] ?? ""),
    severity: "stop",
  };
}

function wrongType(path: Path, found: unknown, at: Schema | null): Issue {
  const card = words(at);
  const wantsText = typeOf(at) === "string";
  const bare =
    typeof found === "number" && wantsText && card.example !== undefined && /\d/.test(card.example);
  return {
    code: bare ? "bare" : "wrong-type",
    path: pathText(path),
    message: bare
      ? `${found} is a bare number: in which unit? Write it as text with its unit.`
      : `${shown(found)} was found where ${needed(at)} is needed.`,
    found: shown(found),
    ...card,
    severity: "stop",
  };
}

const neededWords: Readonly<Record<string, string>> = {
  string: "text in quotes",
  enum: "a word in quotes",
  literal: "a word in quotes",
  number: "a number without quotes",
  array: "a list in square brackets",
  tuple: "a list in square brackets",
  object: "a group of keys in curly brackets",
};

/** The kind of value a field takes, in words; a choice may take several. */
function needed(schema: Schema | null): string {
  if (schema === null) return "something else";
  const def = defOf(schema);
  if (def.innerType !== undefined) return needed(def.innerType);
  if (def.options === undefined) return neededWords[def.type] ?? "something else";
  return [...new Set(def.options.map(needed))].join(" or ");
}

/** Allowed and example of a field, from its card in the schema. */
function words(schema: Schema | null): Partial<Issue> {
  if (schema === null) return {};
  const card = globalRegistry.get(schema) as
    | { description?: string; examples?: readonly unknown[] }
    | undefined;
  const example = card?.examples?.[0];
  const keys = keysOf(schema, {});
  const about = [card?.description, keys.length === 0 ? undefined : `keys: ${keys.join(", ")}`].filter(
    (w) => w !== undefined,
  );
  return {
    ...(about.length === 0 ? {} : { allowed: about.join("; ") }),
    ...(example === undefined ? {} : { example: JSON.stringify(example) }),
  };
}

interface Def {
  readonly type: string;
  readonly shape?: Readonly<Record<string, Schema>>;
  readonly element?: Schema;
  readonly items?: readonly Schema[];
  readonly options?: readonly Schema[];
  readonly innerType?: Schema;
  readonly discriminator?: string;
  readonly values?: readonly unknown[];
}

function defOf(schema: Schema): Def {
  return schema._zod.def as unknown as Def;
}

/** The schema with "may be absent" taken off, and of a choice the branch that this value takes. */
function branch(schema: Schema, value: unknown): Schema {
  const def = defOf(schema);
  if (def.innerType !== undefined) return branch(def.innerType, value);
  if (def.options === undefined) return schema;
  const isGroup = typeof value === "object" && value !== null && !Array.isArray(value);
  const named = def.discriminator;
  const keys = isGroup ? Object.keys(value) : [];
  const likeness = (o: Schema): number => {
    const shape = defOf(o).shape ?? {};
    return keys.filter((key) => key in shape).length;
  };
  const chosen =
    named !== undefined && isGroup
      ? def.options.find((o) =>
          defOf(defOf(o).shape?.[named] ?? o).values?.includes((value as Record<string, unknown>)[named]),
        )
      : def.options
          .filter((o) => (typeOf(o) === "object") === isGroup)
          .reduce<Schema | undefined>(
            (a, b) => (a === undefined || likeness(b) > likeness(a) ? b : a),
            undefined,
          );
  return chosen === undefined ? schema : branch(chosen, value);
}

function typeOf(schema: Schema | null): string {
  if (schema === null) return "unknown";
  const def = defOf(schema);
  if (def.innerType !== undefined) return typeOf(def.innerType);
  if (def.options !== undefined && def.options[0] !== undefined) return typeOf(def.options[0]);
  return def.type;
}

/** The field's schema (with its card) at a path, following the branches that the data takes. */
function schemaAt(schema: Schema, path: Path, data: unknown): Schema | null {
  let at: Schema | undefined = schema;
  let value: unknown = data;
  for (const key of path) {
    if (at === undefined) return null;
    const def = defOf(branch(at, value));
    if (def.shape !== undefined) at = def.shape[String(key)];
    else if (def.items !== undefined) at = def.items[Number(key)];
    else at = def.element;
    value =
      typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[key] : undefined;
  }
  if (at === undefined) return null;
  // The card may sit inside "may be absent".
  while (defOf(at).innerType !== undefined && globalRegistry.get(at) === undefined)
    at = defOf(at).innerType as Schema;
  return at;
}

function keysOf(schema: Schema, value: unknown): string[] {
  return Object.keys(defOf(branch(schema, value)).shape ?? {});
}

function valueAt(data: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (value, key) =>
      typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[key] : undefined,
    data,
  );
}
