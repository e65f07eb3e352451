/**
 * The few kinds of field a document is made of. Every field says what it is and shows an example; both go into the JSON
 * Schema and into the message when the field is at fault.
 */
import { number, enum as oneOfWords, strictObject, string, tuple, union } from "zod";
import { kindWords, parseQuantity, type QuantityKind, quantityPattern } from "#engine/units";

export interface QuantityLimits {
  /** Least and greatest allowed, as typed: "0.3 mm". Reaching them is allowed. */
  readonly least?: string;
  readonly most?: string;
  /** "positive" unless said otherwise. */
  readonly sign?: "positive" | "not-negative" | "any";
  readonly example?: string;
}

/** What a custom issue carries beside its message. */
export interface FaultWords {
  readonly fault: string;
  readonly allowed: string;
  /** As it is to be typed in the file. */
  readonly example: string;
}

/** A quantity as the maker types it: a string with a number and a unit. */
export function quantity(kind: QuantityKind, about: string, limits: QuantityLimits = {}) {
  const example = limits.example ?? kindWords[kind].example;
  const allowed = rangeWords(kind, limits);
  return string()
    .check((ctx) => {
      const fault = quantityFault(ctx.value, kind, limits);
      if (fault === null) return;
      const words: FaultWords = {
        fault: fault.code,
        allowed: fault.allowed ?? allowed,
        example: JSON.stringify(fault.example ?? example),
      };
      ctx.issues.push({ code: "custom", input: ctx.value, message: fault.message, params: { ...words } });
    })
    .meta({ description: `${about} (${allowed})`, examples: [example], pattern: quantityPattern(kind) });
}

interface QuantityFault {
  readonly code: string;
  readonly message: string;
  readonly allowed?: string;
  readonly example?: string;
}

function quantityFault(text: string, kind: QuantityKind, limits: QuantityLimits): QuantityFault | null {
  const parsed = parseQuantity(text, kind);
  if (!parsed.ok) {
    // What the reader can make of the text is the better example only where a number is there to be mended.
    const mended = parsed.problem === "bare" || parsed.problem === "doubtful";
    return {
      code: parsed.problem,
      message: parsed.message,
      allowed: `${rangeWords(kind, limits)} (units: ${parsed.allowed.replace(/^.*: /, "")})`,
      ...(mended ? { example: parsed.example } : {}),
    };
  }
  const sign = limits.sign ?? "positive";
  if (kind !== "temperature" && sign !== "any" && parsed.value < 0)
    return { code: "negative", message: `"${text}" is negative.` };
  if (kind !== "temperature" && sign === "positive" && parsed.value === 0)
    return { code: "zero", message: `"${text}" is zero.` };
  if (limits.least !== undefined && parsed.value < si(limits.least, kind) * (1 - 1e-12)) {
    return { code: "too-small", message: `"${text}" is less than ${limits.least}.` };
  }
  if (limits.most !== undefined && parsed.value > si(limits.most, kind) * (1 + 1e-12)) {
    return { code: "too-large", message: `"${text}" is more than ${limits.most}.` };
  }
  return null;
}

function si(text: string, kind: QuantityKind): number {
  const parsed = parseQuantity(text, kind);
  if (!parsed.ok) throw new Error(`a limit in the schema cannot be read: ${parsed.message}`);
  return parsed.value;
}

function rangeWords(kind: QuantityKind, { least, most, sign = "positive" }: QuantityLimits): string {
  const words = `${kindWords[kind].words} with its unit`;
  const free = kind === "temperature" || sign === "any";
  const from = least ?? (free ? null : sign === "positive" ? "more than zero" : "zero");
  if (most === undefined)
    return from === null ? words : `${words}, ${from === "more than zero" ? from : `${from} or more`}`;
  return from === null
    ? `${words}, up to ${most}`
    : `${words}, ${from} ${least === undefined ? "up to" : "to"} ${most}`;
}

export interface NumberLimits {
  readonly least: number;
  readonly most: number;
  readonly whole?: boolean;
  readonly example: number;
}

/** A plain number without a unit (a count, a ratio, a loss factor). */
export function plainNumber(about: string, limits: NumberLimits) {
  const allowed = `${limits.whole ? "a whole number" : "a number"} without a unit, ${limits.least} to ${limits.most}`;
  return number()
    .check((ctx) => {
      const v = ctx.value;
      const fault =
        limits.whole && !Number.isInteger(v)
          ? `${v} is not a whole number.`
          : v < limits.least
            ? `${v} is less than ${limits.least}.`
            : v > limits.most
              ? `${v} is more than ${limits.most}.`
              : null;
      if (fault === null) return;
      const words: FaultWords = { fault: "out-of-range", allowed, example: String(limits.example) };
      ctx.issues.push({ code: "custom", input: v, message: fault, params: { ...words } });
    })
    .meta({
      description: `${about} (${allowed})`,
      examples: [limits.example],
      minimum: limits.least,
      maximum: limits.most,
      ...(limits.whole ? { multipleOf: 1 } : {}),
    });
}

/** Free words. */
export function text(about: string, example: string, longest = 2000) {
  return string()
    .check((ctx) => {
      const fault =
        ctx.value.trim() === ""
          ? "Nothing is written here."
          : ctx.value.length > longest
            ? `This is longer than ${longest} characters.`
            : null;
      if (fault === null) return;
      const words: FaultWords = {
        fault: "text",
        allowed: `text of 1 to ${longest} characters`,
        example: JSON.stringify(example),
      };
      ctx.issues.push({ code: "custom", input: ctx.value, message: fault, params: { ...words } });
    })
    .meta({ description: about, examples: [example], minLength: 1, maxLength: longest });
}

/** A day: "2027-03-14". */
export function day(about: string) {
  return string()
    .check((ctx) => {
      const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(ctx.value);
      if (match !== null && isDay(Number(match[1]), Number(match[2]), Number(match[3]))) return;
      const words: FaultWords = {
        fault: "date",
        allowed: "a day as year-month-day",
        example: '"2027-03-14"',
      };
      ctx.issues.push({
        code: "custom",
        input: ctx.value,
        message: `"${ctx.value.slice(0, 40)}" is not a day.`,
        params: { ...words },
      });
    })
    .meta({ description: `${about} (year-month-day)`, examples: ["2027-03-14"], format: "date" });
}

function isDay(year: number, month: number, dayOfMonth: number): boolean {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1];
  return days !== undefined && dayOfMonth >= 1 && dayOfMonth <= days;
}

/** One of a few words. */
export function word<const W extends readonly [string, ...string[]]>(about: string, words: W) {
  return oneOfWords(words).meta({
    description: `${about} (one of: ${words.join(", ")})`,
    examples: [words[0]],
  });
}

/** Where a value comes from. */
const how = word("Whence the value comes", ["measured", "catalogue", "assumed"]);

/** The two ways to type a quantity that is not certain: alone, or with its origin and spread. */
export function uncertainForms(kind: QuantityKind, about: string, limits: QuantityLimits = {}) {
  const plain = quantity(kind, about, limits);
  const full = strictObject({
    value: plain,
    how,
    spread: spread(kind),
    note: text("What a reader should know of it", "weighed twice").optional(),
  });
  return [plain, full] as const;
}

/** A quantity with its origin and spread; as a plain string it counts as assumed, with the usual spread of its kind. */
export function uncertain(kind: QuantityKind, about: string, limits: QuantityLimits = {}) {
  return union(uncertainForms(kind, about, limits)).meta({
    description: `${about}: a quantity with its unit, or its value with how it is known and its spread`,
    examples: [limits.example ?? kindWords[kind].example],
  });
}

/** A plain number with its origin and spread. */
export function uncertainNumber(about: string, limits: NumberLimits) {
  const plain = plainNumber(about, limits);
  return union([
    plain,
    strictObject({
      value: plain,
      how,
      spread: spread("ratio"),
      note: text("What a reader should know of it", "from the ring-down of a strip").optional(),
    }),
  ]).meta({ description: `${about}: a number, or its value with how it is known and its spread` });
}

/** One standard deviation: a share of the value ("10 %") or a quantity of the same kind ("0.1 mm"). */
function spread(kind: QuantityKind) {
  const allowed =
    kind === "ratio" ? "a percentage of the value" : `a percentage of the value, or ${kindWords[kind].words}`;
  return string()
    .check((ctx) => {
      const share = parseQuantity(ctx.value, "ratio");
      const same = parseQuantity(ctx.value, kind);
      const read = share.ok ? share : same;
      const message = !read.ok
        ? read.message
        : read.value < 0
          ? `"${ctx.value}" is negative.`
          : share.ok && share.value > 2
            ? `"${ctx.value}" is more than twice the value.`
            : null;
      if (message === null) return;
      const words: FaultWords = { fault: "spread", allowed, example: JSON.stringify("10 %") };
      ctx.issues.push({ code: "custom", input: ctx.value, message, params: { ...words } });
    })
    .meta({ description: `One standard deviation (${allowed})`, examples: ["10 %"] });
}

/** A place in plan: [along the centreline from the tail, towards the bass side from the centreline]. */
export function place(about: string) {
  const ordinate = (words: string, example: string) =>
    quantity("length", words, { sign: "any", least: "-2 m", most: "2 m", example });
  return tuple([
    ordinate("Along the centreline from the tail, towards the neck", "160 mm"),
    ordinate("From the centreline, towards the bass side", "-42 mm"),
  ]).meta({
    description: `${about}: [along from the tail, towards the bass side]`,
    examples: [["160 mm", "-42 mm"]],
  });
}
