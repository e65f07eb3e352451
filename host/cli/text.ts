/** Plain text for the terminal: columns that line up, and numbers rounded to what they can claim, each with its unit. */
import { inches, inUnit, millimetres } from "#engine/units";
import type { Verdict } from "#engine/verdicts";

/** Columns of a terminal that every page keeps to. */
const pageWidth = 100;

/** A sentence on lines no longer than the page, each after the first set in by `hang`; a longer word is left whole. */
export function wrapped(text: string, first = "", hang = first): string {
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of text.split(/[ \n]+/)) {
    if (!empty && line.length + 1 + word.length > pageWidth) {
      lines.push(line);
      line = hang;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return [...lines, line].join("\n");
}

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
export const kilogramsForce = (force: number, decimals = 0): string =>
  `${inUnit(force, "kgf").toFixed(decimals)} kgf`;
export const hertz = (frequency: number): string => `${frequency.toFixed(0)} Hz`;

const marks = { good: "[good] ", watch: "[WATCH]", stop: "[STOP] " } as const;

/** Verdicts, gravest first: a word marks the level, never a colour alone. */
export function verdictText(verdicts: readonly Verdict[]): string {
  const order = ["stop", "watch", "good"];
  const sorted = [...verdicts].sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
  return sorted.map(oneVerdict).join("\n\n");
}

function oneVerdict(v: Verdict): string {
  const note = (title: string, words: string) => wrapped(words, `        ${title.padEnd(8)}`, " ".repeat(16));
  return [
    `${marks[v.level]} ${v.title}`,
    wrapped(`${v.computed}.`, "        "),
    note("limit", `${v.limit}. Source: ${v.source}.`),
    ...(v.level === "good" ? [] : [note("why", `${v.why}.`), note("change", `${v.whatWouldChange}.`)]),
    note("sure", `${v.sureness}.`),
    ...(v.meant === undefined ? [] : [note("meant", v.meant)]),
  ].join("\n");
}
