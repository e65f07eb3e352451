/** Numbers for the eye: the only way back from SI to the maker's units. Decimal point always, no grouping. */
import { unitsBySymbol } from "./unitTable.ts";

/** An SI value in a given unit, as a plain number. Throws for a unit that is not in the table (our own mistake). */
export function inUnit(value: number, symbol: string): number {
  const unit = unitsBySymbol.get(symbol);
  if (unit === undefined) throw new Error(`inUnit: no unit "${symbol}"`);
  return value / unit.factor - unit.offset;
}

/** A number in a given unit as SI. Throws for a unit that is not in the table (our own mistake). */
export function fromUnit(typed: number, symbol: string): number {
  const unit = unitsBySymbol.get(symbol);
  if (unit === undefined) throw new Error(`fromUnit: no unit "${symbol}"`);
  return (typed + unit.offset) * unit.factor;
}

/** "647.70 mm": an SI value in a unit with a fixed number of decimals; never "-0.00". */
export function formatQuantity(value: number, symbol: string, decimals: number): string {
  return `${fixed(inUnit(value, symbol), decimals)} ${symbol}`;
}

/** Millimetres without the unit, for tables and drawings whose heading carries it. */
export function millimetres(value: number, decimals: number): string {
  return fixed(inUnit(value, "mm"), decimals);
}

/** Inches to 0.001 without the unit, for slot cards. */
export function inches(value: number, decimals = 3): string {
  return fixed(inUnit(value, "in"), decimals);
}

function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text;
}
