import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "./checkInstrument.ts";
import type { Issue } from "./issue.ts";
import { parseInstrument } from "./parseInstrument.ts";

type Json = Record<string | number, unknown>;
type Path = readonly (string | number)[];

const text = readFileSync(new URL("../../examples/small-ladder.fairbout.json", import.meta.url), "utf8");

function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== "object" || value === null) return [path];
  const inner = Object.keys(value).flatMap((key) => pathsOf((value as Json)[key], [...path, key]));
  return path.length === 0 ? inner : [path, ...inner];
}

const paths = pathsOf(JSON.parse(text));

function valueAt(document: unknown, path: Path): unknown {
  return path.reduce<unknown>((at, key) => (at as Json | undefined)?.[key], document);
}

/** The document with one place set; unchanged if an earlier change took the place away. */
function put(document: Json, path: Path, value: unknown): void {
  const holder = valueAt(document, path.slice(0, -1));
  if (typeof holder === "object" && holder !== null) (holder as Json)[path.at(-1)!] = value;
}

/** Every issue has a code, plain words, a place in the text, and no program's leavings. */
function faultsOf(issues: readonly Issue[]): string[] {
  return issues
    .filter(
      ({ code, message }) =>
        code === "" || message === "" || /undefined|NaN\b(?! (mm|is))|\[object/.test(message),
    )
    .map(({ path, message }) => `${path}: ${message}`);
}

describe("a document changed at random", () => {
  it("never throws in the reading, and explains every fault (any JSON anywhere)", () => {
    const change = fc.tuple(fc.constantFrom(...paths), fc.jsonValue());
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 4 }), (changes) => {
        const document = JSON.parse(text) as Json;
        for (const [path, value] of changes) put(document, path, value);
        const parsed = parseInstrument(JSON.stringify(document));
        if (!parsed.ok) expect(faultsOf(parsed.issues)).toEqual([]);
      }),
      { seed: 20261125, numRuns: 400 },
    );
  });

  it("never throws in the realising, and explains every misfit (sizes between a third and twice)", () => {
    const original: unknown = JSON.parse(text);
    const sizes = paths.filter((path) => / (mm|deg|g|GPa|m)$/.test(String(valueAt(original, path))));
    const change = fc.tuple(fc.constantFrom(...sizes), fc.double({ min: 0.3, max: 2, noNaN: true }));
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 3 }), (changes) => {
        const document = JSON.parse(text) as Json;
        for (const [path, factor] of changes) {
          const [, number, unit] = /^(-?[\d.]+)( .*)$/.exec(String(valueAt(document, path)))!;
          put(document, path, `${(Number(number) * factor).toFixed(3)}${unit}`);
        }
        const checked = checkInstrument(JSON.stringify(document, null, 2));
        expect(faultsOf(checked.ok ? checked.watch : checked.issues)).toEqual([]);
      }),
      { seed: 9, numRuns: 25 },
    );
  });
});
