import {
  benchDeeds,
  type EditAnswer,
  type FieldChange,
  type Json,
  pathOf,
  type Step,
  stepsOf,
} from "../bench/index.ts";
import { entryName, fieldName, rowNames } from "./fieldNames.ts";

type Document = { readonly [key: string]: Json };

export function valueAt(document: Json, path: string): Json | undefined {
  return stepsOf(path).reduce<Json | undefined>(
    (value, step) =>
      typeof value === "object" && value !== null
        ? (value as { readonly [step: Step]: Json })[step]
        : undefined,
    document,
  );
}

/** What a place of the document is called, from the outside in: ["Top", "ray 3, bass waist", "Height"]. */
export function placeNames(document: Json, path: string): readonly string[] {
  const steps = stepsOf(path);
  const names: string[] = [];
  const keys: string[] = [];
  let value: Json | undefined = document;
  for (const step of steps) {
    value =
      typeof value === "object" && value !== null
        ? (value as { readonly [step: Step]: Json })[step]
        : undefined;
    if (typeof step === "string") {
      keys.push(step);
      names.push(fieldName(keys));
    } else names.push(nameOfEntry(keys.at(-1) ?? "", step, value));
  }
  return names;
}

/** The same in one line; a path that is none, as an issue of a broken file may have, as it is. */
export function namesOf(document: Json, path: string): string {
  try {
    return placeNames(document, path).join(", ");
  } catch {
    return path;
  }
}

/** An entry by its own name where it has one. */
function nameOfEntry(listKey: string, index: number, entry: Json | undefined): string {
  const own =
    typeof entry === "object" && entry !== null ? (entry as { readonly name?: Json }).name : undefined;
  if (typeof own === "string" && own !== "") return own;
  if (["from", "to", "at", "centre", "apex", "ends", "tipHeight", "tipLength", "semiAxes"].includes(listKey))
    return rowNames(
      listKey,
      listKey === "ends" || listKey.startsWith("tip") ? "at the start, at the end" : "from the tail",
    )[index === 0 ? 0 : 1];
  return entryName(listKey, index);
}

/** A value in a few characters, for the history. */
export function shortValue(value: Json | undefined): string {
  if (value === undefined) return "not said";
  if (typeof value === "string") return value.length > 40 ? `${value.slice(0, 37)}...` : value;
  if (typeof value !== "object" || value === null) return String(value);
  if (Array.isArray(value)) {
    const plain = value.every((v) => typeof v !== "object");
    return plain && value.length <= 3 ? value.join(", ") : `${value.length} entries`;
  }
  const group = value as {
    readonly value?: Json;
    readonly kind?: Json;
    readonly species?: Json;
    readonly name?: Json;
  };
  const said = group.value ?? group.name ?? group.species ?? group.kind;
  return said === undefined ? "given" : shortValue(said);
}

/** Sets one field; the cause says it as the maker would: "Top, ray 3: height 8.2 mm to 7.6 mm". */
export function setField(document: Document, path: string, value: Json | undefined): Promise<EditAnswer> {
  const before = valueAt(document, path);
  const names = shortNames(document, path);
  const last = names.at(-1) ?? "";
  const where = names.slice(0, -1).join(", ");
  const what = `${where === "" ? last : small(last)} ${shortValue(before)} to ${shortValue(value)}`;
  const renamed = /^(top|back)\.braces\[\d+\]\.name$/.exec(path)?.[1];
  const followers = renamed === undefined ? [] : namesFollow(document, renamed, before, value);
  return benchDeeds.edit([{ path, value }, ...followers], where === "" ? what : `${where}: ${what}`);
}

/** Names without that of a list whose entry goes by its own: "Top, ray 3, bass waist". */
function shortNames(document: Document, path: string): readonly string[] {
  const steps = stepsOf(path);
  return placeNames(document, path).filter(
    (_, i) => typeof steps[i + 1] !== "number" || i + 1 === steps.length - 1,
  );
}

/** "Height" within a sentence; "Young's" would stay, but no field begins with a name. */
const small = (name: string): string => name.charAt(0).toLowerCase() + name.slice(1);

/** Hub and crossings call a brace by its name. */
function namesFollow(
  document: Document,
  plate: string,
  before: Json | undefined,
  after: Json | undefined,
): readonly FieldChange[] {
  if (before === undefined || after === undefined) return [];
  const lists = [`${plate}.hub.braces`];
  const crossings = valueAt(document, `${plate}.crossings`);
  if (Array.isArray(crossings)) lists.push(...crossings.map((_, i) => `${plate}.crossings[${i}].braces`));
  return lists.flatMap((path) => {
    const names = valueAt(document, path);
    return Array.isArray(names)
      ? names.flatMap((name: Json, i) => (name === before ? [{ path: `${path}[${i}]`, value: after }] : []))
      : [];
  });
}

/** Adds an entry behind another (at the end if no index is given). */
export function addEntry(
  document: Document,
  listPath: string,
  entry: Json,
  behind?: number,
): Promise<EditAnswer> {
  const list = (valueAt(document, listPath) ?? []) as readonly Json[];
  const at = behind === undefined ? list.length : behind + 1;
  const after = [...list.slice(0, at), entry, ...list.slice(at)];
  return benchDeeds.edit(
    listChanges(listPath, list, after),
    `${said(document, listPath)}: ${named(entry, "an entry")} added`,
  );
}

export function removeEntry(document: Document, listPath: string, index: number): Promise<EditAnswer> {
  const list = (valueAt(document, listPath) ?? []) as readonly Json[];
  const name = placeNames(document, `${listPath}[${index}]`).at(-1) ?? "";
  const changes: FieldChange[] = [{ path: `${listPath}[${index}]`, value: undefined }];
  return benchDeeds.edit(
    [...changes, ...namesGone(document, listPath, list[index])],
    `${said(document, listPath)}: ${name} removed`,
  );
}

export function moveEntry(
  document: Document,
  listPath: string,
  from: number,
  to: number,
): Promise<EditAnswer> {
  const list = [...((valueAt(document, listPath) ?? []) as readonly Json[])];
  const before = [...list];
  const [entry] = list.splice(from, 1);
  if (entry === undefined) return Promise.resolve({ ok: true });
  list.splice(to, 0, entry);
  const name = named(entry, placeNames(document, `${listPath}[${from}]`).at(-1) ?? "");
  return benchDeeds.edit(
    listChanges(listPath, before, list),
    `${said(document, listPath)}: ${name} moved to place ${to + 1}`,
  );
}

/** An entry like another, under a name that none of the list has. */
export function copyOf(entry: Json, list: readonly Json[]): Json {
  if (typeof entry !== "object" || entry === null || Array.isArray(entry)) return entry;
  const own = (entry as { readonly name?: Json }).name;
  if (typeof own !== "string") return entry;
  const taken = new Set(list.map((other) => (other as { readonly name?: Json }).name));
  const base = own.replace(/, copy(?: \d+)?$/, "").slice(0, 68);
  let name = `${base}, copy`;
  for (let n = 2; taken.has(name); n++) name = `${base}, copy ${n}`;
  return { ...(entry as Document), name };
}

/** Only the entries that differ are written anew, so that the rest of the file stays as it is. */
function listChanges(path: string, before: readonly Json[], after: readonly Json[]): readonly FieldChange[] {
  if (before.length === 0) return [{ path, value: after }];
  return after.flatMap((entry, i) => (entry === before[i] ? [] : [{ path: `${path}[${i}]`, value: entry }]));
}

/** A brace that goes is named no more at its hub and crossings. */
function namesGone(document: Document, listPath: string, entry: Json | undefined): readonly FieldChange[] {
  const steps = stepsOf(listPath);
  const name =
    typeof entry === "object" && entry !== null ? (entry as { readonly name?: Json }).name : undefined;
  if (steps.at(-1) !== "braces" || steps.length !== 2 || typeof name !== "string") return [];
  const plate = pathOf(steps.slice(0, 1));
  const hub = valueAt(document, `${plate}.hub.braces`);
  const crossings = valueAt(document, `${plate}.crossings`);
  const changes: FieldChange[] = [];
  if (Array.isArray(hub) && hub.includes(name))
    changes.push({ path: `${plate}.hub.braces`, value: hub.filter((other: Json) => other !== name) });
  if (Array.isArray(crossings)) {
    const left = (crossings as readonly Json[]).filter(
      (crossing) => !((crossing as { readonly braces?: readonly Json[] }).braces ?? []).includes(name),
    );
    if (left.length < crossings.length)
      changes.push({ path: `${plate}.crossings`, value: left.length === 0 ? undefined : left });
  }
  return changes;
}

const said = (document: Document, path: string): string => placeNames(document, path).join(", ");

function named(entry: Json, otherwise: string): string {
  const own =
    typeof entry === "object" && entry !== null ? (entry as { readonly name?: Json }).name : undefined;
  return typeof own === "string" ? own : otherwise;
}
