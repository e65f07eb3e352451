import { kindWords, type QuantityKind, quantityPattern } from "#engine/units";

/** What the schema says of every value, whatever it is made of. */
interface About {
  /** What it is, in the trade's words. */
  readonly about: string;
  /** What may be typed, in words; empty where the editor leaves no other choice. */
  readonly allowed: string;
  /** An example as it stands in the file. */
  readonly example: unknown;
}

export interface Member {
  readonly key: string;
  readonly optional: boolean;
  readonly shape: Shape;
}

/** How a value of the document is edited, read from the published schema so that no field can be forgotten. */
export type Shape =
  | (About & { readonly is: "quantity"; readonly kind: QuantityKind })
  | (About & { readonly is: "number"; readonly whole: boolean })
  | (About & { readonly is: "text"; readonly longest: number })
  | (About & { readonly is: "day" })
  | (About & { readonly is: "word"; readonly words: readonly string[] })
  /** The document says this and nothing else. */
  | (About & { readonly is: "fixed"; readonly value: string })
  /** A value alone, or with how it is known and its spread. */
  | (About & { readonly is: "uncertain"; readonly alone: Shape; readonly full: GroupShape })
  | GroupShape
  | (About & { readonly is: "list"; readonly item: Shape; readonly least: number; readonly most: number })
  /** A fixed number of values in a row: a place, two ends. */
  | (About & { readonly is: "row"; readonly items: readonly Shape[] })
  /** One of several groups, told apart by their `kind`. */
  | (About & { readonly is: "choice"; readonly forms: readonly ChoiceForm[] })
  /** One of several kinds of value: a species by name or a board, a fret's number or "bridge". */
  | (About & { readonly is: "forms"; readonly forms: readonly Shape[] });

export type GroupShape = About & { readonly is: "group"; readonly members: readonly Member[] };

interface ChoiceForm {
  readonly kind: string;
  readonly group: GroupShape;
}

/** As much of JSON Schema (draft 2020-12) as the document's schema uses. */
interface JsonSchema {
  readonly $ref?: string;
  readonly $defs?: { readonly [name: string]: JsonSchema };
  readonly type?: string;
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly pattern?: string;
  readonly format?: string;
  readonly const?: unknown;
  readonly enum?: readonly string[];
  readonly maxLength?: number;
  readonly multipleOf?: number;
  readonly properties?: { readonly [key: string]: JsonSchema };
  readonly required?: readonly string[];
  readonly items?: JsonSchema;
  readonly prefixItems?: readonly JsonSchema[];
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly anyOf?: readonly JsonSchema[];
  readonly oneOf?: readonly JsonSchema[];
}

const kindByPattern: ReadonlyMap<string, QuantityKind> = new Map(
  (Object.keys(kindWords) as QuantityKind[]).map((kind) => [quantityPattern(kind), kind]),
);

/** Reads the schema of the document. Throws on what it does not know: a new kind of field needs an editor. */
export function documentShape(schema: unknown): GroupShape {
  const shape = read(schema as JsonSchema, (schema as JsonSchema).$defs ?? {}, "");
  if (shape.is !== "group") throw new Error("the document is no group of fields");
  return shape;
}

function read(schema: JsonSchema, defs: NonNullable<JsonSchema["$defs"]>, at: string): Shape {
  if (schema.$ref !== undefined) {
    const def = defs[schema.$ref.replace("#/$defs/", "")];
    if (def === undefined) throw new Error(`${at}: ${schema.$ref} is not there`);
    return { ...read(def, defs, at), ...(schema.description === undefined ? {} : split(schema.description)) };
  }
  const words = split(schema.description ?? "");
  const card: About = { ...words, example: schema.examples?.[0] };
  if (schema.const !== undefined) return { ...card, is: "fixed", value: String(schema.const) };
  if (schema.enum !== undefined) return { ...card, is: "word", words: schema.enum, allowed: "" };
  const forms = schema.anyOf ?? schema.oneOf;
  if (forms !== undefined) return readForms(forms, card, defs, at);
  if (schema.type === "string") return readText(schema, card);
  if (schema.type === "number" || schema.type === "integer")
    return { ...card, is: "number", whole: schema.multipleOf === 1 || schema.type === "integer" };
  if (schema.type === "array") {
    if (schema.prefixItems !== undefined)
      return {
        ...card,
        is: "row",
        items: schema.prefixItems.map((item, i) => read(item, defs, `${at}[${i}]`)),
      };
    if (schema.items === undefined) throw new Error(`${at}: a list of what?`);
    const { minItems: least = 0, maxItems: most = Number.POSITIVE_INFINITY } = schema;
    return { ...card, is: "list", item: read(schema.items, defs, `${at}[]`), least, most };
  }
  if (schema.type === "object") {
    const required = schema.required ?? [];
    const members = Object.entries(schema.properties ?? {}).map(
      ([key, member]): Member => ({
        key,
        optional: !required.includes(key),
        shape: read(member, defs, `${at}.${key}`),
      }),
    );
    return { ...card, is: "group", members };
  }
  throw new Error(`${at}: no editor for ${JSON.stringify(schema).slice(0, 100)}`);
}

function readText(schema: JsonSchema, card: About): Shape {
  if (schema.format === "date") return { ...card, is: "day" };
  if (schema.pattern === undefined) return { ...card, is: "text", longest: schema.maxLength ?? 200 };
  const kind = kindByPattern.get(schema.pattern);
  if (kind === undefined) throw new Error(`no kind of quantity has the pattern of "${card.about}"`);
  return { ...card, is: "quantity", kind };
}

function readForms(
  forms: readonly JsonSchema[],
  card: About,
  defs: NonNullable<JsonSchema["$defs"]>,
  at: string,
): Shape {
  const shapes = forms.map((form, i) => read(form, defs, `${at}<${i}>`));
  const choices = shapes.flatMap((group): ChoiceForm[] => {
    const kind = group.is === "group" ? group.members.find(({ key }) => key === "kind")?.shape : undefined;
    return group.is === "group" && kind?.is === "fixed" ? [{ kind: kind.value, group }] : [];
  });
  if (choices.length === shapes.length) return { ...card, is: "choice", forms: choices };
  const [alone, full, ...others] = shapes;
  const known = full?.is === "group" && full.members.some(({ key }) => key === "how");
  if (alone === undefined || full === undefined) throw new Error(`${at}: a choice of one`);
  if (known && full.is === "group") {
    const { about, allowed } = alone;
    const uncertain: Shape = { ...card, about, allowed, is: "uncertain", alone, full };
    return others.length === 0 ? uncertain : { ...card, is: "forms", forms: [uncertain, ...others] };
  }
  return { ...card, is: "forms", forms: shapes };
}

/** "Thickness of a wing (a length with its unit, 1 mm to 20 mm)": what it is, and what is allowed. */
function split(description: string): Pick<About, "about" | "allowed"> {
  const match = /^(.*?) \((an? [^()]*(?:\([^()]*\)[^()]*)*|year-month-day|one of: .*|units?: .*)\)$/s.exec(
    description,
  );
  return match === null
    ? { about: description, allowed: "" }
    : { about: match[1] ?? "", allowed: match[2] ?? "" };
}

/** The form that a value of the document has, of those the shape allows; null: none yet, or one that cannot be. */
export function formOf(shape: Shape & { is: "choice" | "forms" }, value: unknown): Shape | null {
  if (shape.is === "choice") return shape.forms.find(({ kind }) => kind === kindOf(value))?.group ?? null;
  return shape.forms.find((form) => fits(form, value)) ?? null;
}

export function kindOf(value: unknown): string | null {
  const kind = typeof value === "object" && value !== null ? (value as { kind?: unknown }).kind : undefined;
  return typeof kind === "string" ? kind : null;
}

/** Whether a value is of the kind, to tell forms apart: not whether it may be so. */
function fits(shape: Shape, value: unknown): boolean {
  switch (shape.is) {
    case "number":
      return typeof value === "number";
    case "quantity":
    case "text":
    case "day":
    case "word":
    case "fixed":
      return typeof value === "string";
    case "uncertain":
      return fits(shape.alone, value) || fits(shape.full, value);
    case "list":
    case "row":
      return Array.isArray(value);
    case "group":
    case "choice":
      return (
        typeof value === "object" &&
        value !== null &&
        !Array.isArray(value) &&
        (shape.is === "choice" ||
          Object.keys(value).every((key) => shape.members.some((member) => member.key === key)))
      );
    case "forms":
      return shape.forms.some((form) => fits(form, value));
  }
}

/** Whether a value of the shape fits on one line. */
export function startsPlain(shape: Shape): boolean {
  return !["group", "choice", "list", "forms"].includes(shape.is);
}
