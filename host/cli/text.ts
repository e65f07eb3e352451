/** Plain text for the terminal: columns that line up, and numbers rounded to what they can claim, each with its unit. */
import { inches, inUnit, millimetres } from "#engine/units";
import type { Verdict } from "#engine/verdicts";

/** Rows of words set in columns; numbers are set by the caller, already rounded. */
export function table(rows: readonly (readonly string[])[], indent = "  "): string {
  const widths: number[] = [];
  for (const row of rows) {
    row.forEach((cell, i) => {
      widths[i] = Math.max(widths[i] ?? 0, cell.length);
    });
  }
  const right = widths.map((_, i) => rows.slice(1).every((row) => /^[-+]?\d/.test(row[i] ?? "0")));
  return rows
    .map((row) =>
      `${indent}${row.map((cell, i) => (right[i] ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!))).join("  ")}`.trimEnd(),
    )
    .join("\n");
}

export const millimetresOf = (length: number, decimals = 1): string => `${millimetres(length, decimals)} mm`;
export const inchesOf = (length: number): string => `${inches(length)} in`;
export const litres = (volume: number): string => `${(volume * 1e3).toFixed(1)} L`;
export const kilograms = (mass: number): string => `${mass.toFixed(2)} kg`;
export const newtons = (force: number): string => `${force.toFixed(0)} N`;
export const kilogramsForce = (force: number): string => `${inUnit(force, "kgf").toFixed(0)} kgf`;
export const hertz = (frequency: number): string => `${frequency.toFixed(frequency < 100 ? 1 : 0)} Hz`;

const marks = { good: "[good] ", watch: "[WATCH]", stop: "[STOP] " } as const;

/** Verdicts, gravest first: a word marks the level, never a colour alone. */
export function verdictText(verdicts: readonly Verdict[]): string {
  const order = ["stop", "watch", "good"];
  const sorted = [...verdicts].sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
  return sorted
    .map((v) => {
      const meant = v.meant === undefined ? "" : `\n          meant: ${v.meant}`;
      const change =
        v.level === "good"
          ? ""
          : `\n          because ${v.why}\n          what would change it: ${v.whatWouldChange}`;
      return `${marks[v.level]} ${v.title}: ${v.computed}\n          limit: ${v.limit} (${v.source})${change}${meant}`;
    })
    .join("\n");
}
