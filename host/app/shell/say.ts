import { formatQuantity, inUnit } from "#engine/units";
import type { Preferences } from "#host/api";

export type Units = Preferences["units"];

/** "2.50 mm" or "0.098 in": what a rule of the shop can show. `decimals` is of the millimetres. */
export function sayLength(metres: number, units: Units, decimals = 2): string {
  return units === "metric"
    ? formatQuantity(metres, "mm", decimals)
    : formatQuantity(metres, "in", Math.min(4, decimals + 1));
}

/** A column of lengths carries its unit in its head. */
export function lengthUnit(units: Units): string {
  return units === "metric" ? "mm" : "in";
}

export function lengthFigure(metres: number, units: Units, decimals = 2): string {
  return sayLength(metres, units, decimals).split(" ")[0]!;
}

export function sayForce(newtons: number, units: Units): string {
  const shop = units === "metric" ? formatQuantity(newtons, "kgf", 1) : formatQuantity(newtons, "lbf", 1);
  return `${shop} (${newtons.toFixed(0)} N)`;
}

export function sayArea(squareMetres: number, units: Units): string {
  return units === "metric"
    ? `${(squareMetres * 1e4).toFixed(0)} cm²`
    : `${(squareMetres / inUnitFactor("in") ** 2).toFixed(1)} sq in`;
}

export function sayVolume(cubicMetres: number, units: Units): string {
  return units === "metric"
    ? `${(cubicMetres * 1e3).toFixed(2)} litres`
    : `${(cubicMetres / inUnitFactor("in") ** 3).toFixed(0)} cu in`;
}

/** SI of one of the unit. */
function inUnitFactor(symbol: string): number {
  return 1 / inUnit(1, symbol);
}

const metricWords = /(\d+(?:\.\d+)?)((?: to | and |, )(?=\d))?( mm| kgf)?/g;

/**
 * Running text of the engine, which speaks in millimetres and kgf, for a maker who measures in inches: "1.9 to 2.5 mm" is
 * "0.075 to 0.098 in". Anything else stays. Numbers keep together with their units, and minus is a minus.
 */
export function prose(text: string, units: Units): string {
  const said = units === "metric" ? text : inInches(text);
  return said
    .replace(/(\d) (?=(?:Hz|kHz|mm|in|N|dB|kgf|lbf|kg|g|s|cents|degrees)\b|%)/g, "$1\u00a0")
    .replace(/(^| )-(?=\d)/g, "$1\u2212");
}

function inInches(text: string): string {
  const pieces = [...text.matchAll(metricWords)];
  let unit: string | null = null;
  let said = text;
  // from the end: the unit stands behind the last of "1.9 to 2.5 mm" and counts for the first as well
  for (const piece of pieces.reverse()) {
    const [whole, figure, joined, own] = piece;
    unit = own === undefined ? (joined === undefined ? null : unit) : own.trim();
    if (unit === null) continue;
    const turned =
      unit === "mm" ? inUnit(Number(figure) / 1e3, "in") : inUnit(Number(figure), "lbf") / inUnit(1, "kgf");
    const decimals = unit === "mm" ? (Number(figure) < 100 ? 3 : 2) : 0;
    const unitWord = own === undefined ? "" : unit === "mm" ? " in" : " lbf";
    said = `${said.slice(0, piece.index)}${turned.toFixed(decimals)}${joined ?? ""}${unitWord}${said.slice(piece.index + whole.length)}`;
  }
  return said;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** "today, 14:05", "26 Nov 2026". ISO 8601 in, the maker's own clock out. */
export function sayWhen(iso: string, now: Date): string {
  const at = new Date(iso);
  const clock = `${two(at.getHours())}:${two(at.getMinutes())}`;
  if (at.toDateString() === now.toDateString()) return `today, ${clock}`;
  const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
  return `${at.getDate()} ${months[at.getMonth()]} ${at.getFullYear()}, ${clock}`;
}

function two(value: number): string {
  return String(value).padStart(2, "0");
}
