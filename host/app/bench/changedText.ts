import type { FieldChange, Json } from "./benchTypes.ts";
import { type Step, stepsOf } from "./fieldPath.ts";
import { type JsonMember, type JsonSpan, jsonSpans } from "./jsonSpans.ts";

/** Documents are kept within this many columns, as the examples are. */
const columns = 110;

/**
 * The document's text with some of its fields changed, one change after the other; everything else stays character by
 * character as it was written. A group that a path passes through and that is not there is made. An index equal to a
 * list's length adds to the list; undefined takes a key or an entry out. Throws where a path leads through a plain value.
 */
export function changedText(text: string, changes: readonly FieldChange[]): string {
  return changes.reduce((now, change) => changed(now, stepsOf(change.path), change.value), text);
}

function changed(text: string, steps: readonly Step[], value: Json | undefined): string {
  let at = jsonSpans(text);
  for (const [depth, step] of steps.entries()) {
    const member = at.members.find((m) => m.step === step);
    if (member === undefined) {
      if (value === undefined) return text;
      return added(text, at, step, wrapped(steps.slice(depth + 1), value));
    }
    if (depth === steps.length - 1 && value === undefined) return without(text, at, member);
    at = member.value;
  }
  if (value === undefined) throw new Error("a document cannot be taken out of itself");
  return replaced(text, at, value);
}

/** The value inside the groups that are missing on the way to it. */
function wrapped(steps: readonly Step[], value: Json): Json {
  return steps.reduceRight<Json>((inner, step) => {
    if (typeof step === "number") {
      if (step !== 0) throw new Error(`entry ${step} of a list that is not there`);
      return [inner];
    }
    return { [step]: inner };
  }, value);
}

function replaced(text: string, span: JsonSpan, value: Json): string {
  const indent = indentAt(text, span.start);
  const before = columnOf(text, span.start);
  const printed = printedJson(value, indent, before, 1);
  return text.slice(0, span.start) + printed + text.slice(span.end);
}

function added(text: string, holder: JsonSpan, step: Step, value: Json): string {
  if (holder.kind === "plain") throw new Error(`${String(step)}: there is a plain value where it should go`);
  if (holder.kind === "list" && step !== holder.members.length)
    throw new Error(`entry ${String(step)} of a list of ${holder.members.length}`);
  const key = typeof step === "string" ? `${JSON.stringify(step)}: ` : "";
  const last = holder.members.at(-1);
  const inner = text.slice(holder.start, holder.end);
  if (last !== undefined && inner.includes("\n")) {
    const indent = indentAt(text, last.from);
    const line = `\n${" ".repeat(indent)}${key}`;
    const printed = printedJson(value, indent, indent + key.length, 1);
    return `${text.slice(0, last.value.end)},${line}${printed}${text.slice(last.value.end)}`;
  }
  return replaced(text, holder, withMember(text, holder, step, value));
}

function withMember(text: string, holder: JsonSpan, step: Step, value: Json): Json {
  const now = JSON.parse(text.slice(holder.start, holder.end)) as Json;
  return Array.isArray(now) ? [...now, value] : { ...(now as { [key: string]: Json }), [step]: value };
}

function without(text: string, holder: JsonSpan, member: JsonMember): string {
  const index = holder.members.indexOf(member);
  const next = holder.members[index + 1];
  const previous = holder.members[index - 1];
  if (next !== undefined) return text.slice(0, member.from) + text.slice(next.from);
  if (previous !== undefined) return text.slice(0, previous.value.end) + text.slice(member.value.end);
  const empty = holder.kind === "group" ? "{}" : "[]";
  return text.slice(0, holder.start) + empty + text.slice(holder.end);
}

/** Spaces at the start of the line on which a character stands. */
function indentAt(text: string, offset: number): number {
  const line = text.lastIndexOf("\n", offset - 1) + 1;
  return (/^ */.exec(text.slice(line, offset))?.[0] ?? "").length;
}

function columnOf(text: string, offset: number): number {
  return offset - (text.lastIndexOf("\n", offset - 1) + 1);
}

/**
 * A value as the examples are written: on one line where it fits, else one member a line, two spaces deeper. `column` is
 * where it begins and `after` how many characters must still fit behind it.
 */
export function printedJson(value: Json, indent: number, column: number, after: number): string {
  const flat = flatJson(value);
  if (column + flat.length + after <= columns || typeof value !== "object" || value === null) return flat;
  const deeper = " ".repeat(indent + 2);
  const close = " ".repeat(indent);
  if (Array.isArray(value)) {
    if (value.length === 0) return "[]";
    const lines = (value as readonly Json[]).map((v) => deeper + printedJson(v, indent + 2, indent + 2, 1));
    return `[\n${lines.join(",\n")}\n${close}]`;
  }
  const lines = Object.entries(value).map(([key, v]) => {
    const start = `${deeper}${JSON.stringify(key)}: `;
    return start + printedJson(v, indent + 2, start.length, 1);
  });
  return lines.length === 0 ? "{}" : `{\n${lines.join(",\n")}\n${close}}`;
}

function flatJson(value: Json): string {
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  if (Array.isArray(value)) return `[${(value as readonly Json[]).map(flatJson).join(", ")}]`;
  const members = Object.entries(value).map(([key, v]) => `${JSON.stringify(key)}: ${flatJson(v)}`);
  return members.length === 0 ? "{}" : `{ ${members.join(", ")} }`;
}
