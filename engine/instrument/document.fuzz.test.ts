import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "./checkInstrument.ts";
import type { Issue } from "./issue.ts";
import { parseInstrument } from "./parseInstrument.ts";

type Json = Record<string | number, unknown>;
type Path = readonly (string | number)[];

/** The plainest example, and the one that says all there is to say of tunings, slots, nut, neck and setup. */
const examples = ["small-ladder", "low-radial"].map((name) => {
  const text = readFileSync(new URL(`../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  return { name, text, paths: pathsOf(JSON.parse(text)) };
});
/** Where strings, board, neck and setup are told. */
const fresh = /^(strings|neck|fingerboard|nut|setup|bridge|saddle|climate)$/;

function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== "object" || value === null) return [path];
  const inner = Object.keys(value).flatMap((key) => pathsOf((value as Json)[key], [...path, key]));
  return path.length === 0 ? inner : [path, ...inner];
}

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

/** Places in a build where a number is not finite. */
function strange(value: unknown, at = "build"): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [at];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => strange(inner, `${at}.${key}`));
}

describe.each(examples)("$name changed at random", ({ text, paths }) => {
  it("never throws in the reading, and explains every fault (any JSON anywhere)", () => {
    const change = fc.tuple(fc.constantFrom(...paths), fc.jsonValue());
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 4 }), (changes) => {
        const document = JSON.parse(text) as Json;
        for (const [path, value] of changes) put(document, path, value);
        const parsed = parseInstrument(JSON.stringify(document));
        if (!parsed.ok) expect(faultsOf(parsed.issues)).toEqual([]);
      }),
      { seed: 20261125, numRuns: 250 },
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

  it("never throws on strings, board, neck and setup, whatever their numbers and sizes are scaled by", () => {
    const original: unknown = JSON.parse(text);
    const places = paths.filter(
      (path) => fresh.test(String(path[0])) && /^-?[\d.]+( |$)/.test(String(valueAt(original, path))),
    );
    const factor = fc.oneof(fc.double({ min: 0.3, max: 3, noNaN: true }), fc.constantFrom(-1, 0, 10));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(...places), factor), { minLength: 1, maxLength: 2 }),
        (changes) => {
          const document = JSON.parse(text) as Json;
          for (const [path, by] of changes) {
            const was = valueAt(document, path);
            const [, number, unit] = /^(-?[\d.]+)(.*)$/.exec(String(was))!;
            const now = Number(number) * by;
            put(document, path, typeof was === "number" ? now : `${now.toFixed(3)}${unit}`);
          }
          const checked = checkInstrument(JSON.stringify(document, null, 2));
          expect(faultsOf(checked.ok ? checked.watch : checked.issues)).toEqual([]);
          if (checked.ok) expect(strange(checked.build)).toEqual([]);
        },
      ),
      { seed: 4, numRuns: 60 },
    );
  });
});
