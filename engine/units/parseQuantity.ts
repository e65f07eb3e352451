import { nearestWord } from "./nearest.ts";
import { kindWords, type QuantityKind, unitsBySymbol, unitsOf } from "./unitTable.ts";

export type ParsedQuantity =
  | {
      readonly ok: true;
      /** SI. */
      readonly value: number;
      /** The unit as typed. */
      readonly unit: string;
    }
  | {
      readonly ok: false;
      /** bare: no unit; doubtful: more than one reading; dimension: a unit of another kind. */
      readonly problem:
        | "empty"
        | "bare"
        | "doubtful"
        | "not-a-number"
        | "unknown-unit"
        | "dimension"
        | "out-of-range";
      /** Plain words for the maker. */
      readonly message: string;
      readonly allowed: string;
      readonly example: string;
    };

/** A typed quantity is short; anything longer is not one. */
const longest = 60;
/** Beyond these no quantity on a guitar lies; they keep overflow and denormals out of the engine. SI. */
const largest = 1e15;
const smallest = 1e-15;

const decimal = /^\d+(?:\.\d+)?(?:[eE][+-]?\d+)?$/;
const fraction = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/;

/**
 * Reads one quantity as a maker types it: a number, a space if wished, and a unit ("25 1/2 in", "647.7 mm", "12 deg").
 * Strict: what can be read in two ways, or has no unit, is refused with a message that asks for what is missing.
 * Numbers are decimals with a point, fractions ("5/16 in") or whole and fraction ("25-1/2 in").
 */
export function parseQuantity(text: string, kind: QuantityKind): ParsedQuantity {
  const words = kindWords[kind];
  const refuse = (
    problem: (ParsedQuantity & { ok: false })["problem"],
    message: string,
    example = words.example,
  ): ParsedQuantity => ({
    ok: false,
    problem,
    message,
    allowed: `${words.words} with its unit: ${unitsOf(kind).join(", ")}`,
    example,
  });

  const trimmed = text.trim().replace(/\s+/g, " ").replace(/^[−–]/, "-");
  if (trimmed === "") return refuse("empty", `Nothing is written here; ${words.words} is needed.`);
  const shown = trimmed.length > longest ? `${trimmed.slice(0, longest)}...` : trimmed;
  if (trimmed.length > longest) return refuse("not-a-number", `"${shown}" is too long to be ${words.words}.`);
  if (/^[+-]?(nan|inf(inity)?|∞)/i.test(trimmed))
    return refuse("not-a-number", `"${shown}" is not a number.`);

  const negative = trimmed.startsWith("-");
  const body = trimmed.replace(/^[+-] ?/, "");
  const split = /^([\d.,/eE+\-' _]*\d[.,]?|[.,]\d+)\s?(.*)$/.exec(body);
  // The greedy number part may have swallowed nothing: then there is no number at all.
  if (split === null) return refuse("not-a-number", `"${shown}" does not start with a number.`);
  const number = split[1] ?? "";
  const unitText = split[2] ?? "";

  const doubt = doubtIn(number, unitText, kind);
  if (doubt !== null) return refuse("doubtful", `"${shown}" ${doubt.why}`, doubt.example);
  const magnitude = readNumber(number);
  if (magnitude === null) return refuse("not-a-number", `"${shown}": "${number}" is not a number.`);
  if (unitText === "") {
    return refuse(
      "bare",
      `"${shown}" has no unit: ${words.words} is needed, in which unit?`,
      `${number} ${usualUnit(kind)}`,
    );
  }

  const unit = unitsBySymbol.get(unitText);
  if (unit === undefined) {
    const near = nearestWord(unitText, unitsOf(kind));
    return refuse(
      "unknown-unit",
      `"${shown}": the unit "${unitText}" is not known${near === null ? "" : `; did you mean "${near}"`}${near === null ? "." : "?"}`,
    );
  }
  if (unit.kind !== kind) {
    return refuse(
      "dimension",
      `"${shown}" is ${kindWords[unit.kind].words}, but ${words.words} is needed here.`,
    );
  }
  const value = ((negative ? -magnitude : magnitude) + unit.offset) * unit.factor;
  const size = Math.abs(value);
  if (!Number.isFinite(value) || size > largest || (size < smallest && magnitude !== 0)) {
    return refuse("out-of-range", `"${shown}" is beyond anything that can be meant here.`);
  }
  if (kind === "temperature" && value < 0)
    return refuse("out-of-range", `"${shown}" lies below absolute zero.`);
  return { ok: true, value, unit: unitText };
}

/** The unit of the kind's own example. */
function usualUnit(kind: QuantityKind): string {
  return kindWords[kind].example.replace(/^[\d. ]+/, "");
}

/** Why a number can be read in more than one way, and how to write it; null when it cannot. */
function doubtIn(number: string, unit: string, kind: QuantityKind): { why: string; example: string } | null {
  const u = unitsBySymbol.get(unit)?.kind === kind ? unit : usualUnit(kind);
  if (number.includes(",")) {
    const point = number
      .replace(/\./g, "")
      .replace(/,(?=[^,]*$)/, ".")
      .replace(/,/g, "");
    return {
      why: "has a comma: does it stand for the decimal point, or does it group thousands? Write a point, and no grouping.",
      example: `${point.replace(/^\./, "0.").replace(/\.$/, "")} ${u}`,
    };
  }
  if (/^\./.test(number))
    return {
      why: "starts with a point: write the zero before it, and the unit.",
      example: `0${number} ${u}`,
    };
  if (/\.$/.test(number))
    return { why: "ends with a point: is a digit missing?", example: `${number}0 ${u}` };
  if (/['_]/.test(number) || /^\d+(?: \d+)+$/.test(number)) {
    return { why: "is grouped: write the digits together.", example: `${number.replace(/['_ ]/g, "")} ${u}` };
  }
  const range = /^(\d+)-(\d+)$/.exec(number);
  if (range !== null) {
    return {
      why: `can be a range or "${range[1]} and ${range[2]} of something": write a decimal or a fraction, and its unit.`,
      example: `${range[1]}.${range[2]} ${u}`,
    };
  }
  const fractionMatch = fraction.exec(number);
  if (fractionMatch !== null) {
    const over = Number(fractionMatch[3]);
    const upper = Number(fractionMatch[2]);
    if (over < 2 || over > 1024) return { why: `has ${over} under the fraction bar.`, example: `5/16 ${u}` };
    if (fractionMatch[1] !== undefined && upper >= over) {
      return { why: "adds a fraction of one or more to a whole number.", example: `25 1/2 ${u}` };
    }
  }
  return null;
}

function readNumber(number: string): number | null {
  if (decimal.test(number)) {
    const exponent = /[eE]([+-]?\d+)$/.exec(number)?.[1];
    if (exponent !== undefined && Math.abs(Number(exponent)) > 30) return Number.POSITIVE_INFINITY;
    return Number(number);
  }
  const match = fraction.exec(number);
  if (match === null) return null;
  return Number(match[1] ?? 0) + Number(match[2]) / Number(match[3]);
}
