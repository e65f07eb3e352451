import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readJson } from "./jsonText.ts";

const refused: readonly (readonly [string, string, number, number, RegExp])[] = [
  ["an empty file", "", 1, 1, /the end of the text/],
  ["words", "top: spruce", 1, 1, /"top" was found/],
  ["a missing closing bracket", '{\n  "a": 1', 1, 1, /never closed/],
  ["a trailing comma", '{\n  "a": 1,\n}', 3, 1, /comma too many/],
  ["a missing comma", '{\n  "a": 1\n  "b": 2\n}', 3, 3, /comma or a closing/],
  ["single quotes", "{'a': 1}", 1, 2, /key in double quotes/],
  ["an open text", '{"a": "open}', 1, 7, /never closed/],
  ["NaN", '{"a": NaN}', 1, 7, /NaN is not a number/],
  ["Infinity", '{"a": Infinity}', 1, 7, /Infinity is not a number/],
  ["minus Infinity", '{"a": -Infinity}', 1, 7, /Infinity is not a number/],
  ["a number too large", '{"a": 1e999}', 1, 7, /too large/],
  ["a bare quantity", '{"a": 2.8 mm}', 1, 11, /comma or a closing/],
  ["a unit stuck to a number", '{"a": 2.8mm}', 1, 7, /text in quotes with its unit/],
  ["a leading point", '{"a": .095}', 1, 7, /value is expected/],
  ["a decimal comma", '{"a": 25,6}', 1, 10, /key in double quotes/],
  ["a key given twice", '{\n"a": 1,\n"a": 2}', 3, 1, /given twice/],
  ["text after the end", '{"a": 1} x', 1, 10, /follows/],
  ["endless nesting", "[".repeat(100_000), 1, 66, /nested more than/],
  ["a broken escape", '{"a": "\\q"}', 1, 7, /backslash/],
];

describe("readJson", () => {
  it.each(refused)("names line and column of %s", (_, text, line, column, message) => {
    const read = readJson(text);
    expect(read).toMatchObject({ ok: false, place: { line, column } });
    if (!read.ok) expect(read.message).toMatch(message);
  });

  it("reads what the built-in reader reads, to the same value", () => {
    fc.assert(
      fc.property(fc.json(), fc.constantFrom(0, 2), (text, indent) => {
        const value: unknown = JSON.parse(text);
        const read = readJson(JSON.stringify(value, null, indent));
        return read.ok && JSON.stringify(read.value) === JSON.stringify(value);
      }),
      { seed: 11, numRuns: 1000 },
    );
  });

  it("never throws, and refuses whatever the built-in reader refuses", () => {
    const soup = fc.array(fc.constantFrom(..."{}[],:\"\\0123456789.eE+-truefalsn \n/'"), { maxLength: 25 });
    fc.assert(
      fc.property(soup, (characters) => {
        const text = characters.join("");
        let known = true;
        try {
          JSON.parse(text);
        } catch {
          known = false;
        }
        return known || !readJson(text).ok;
      }),
      { seed: 3, numRuns: 20_000 },
    );
  });

  it("tells where a value stands, and for an absent one where its surroundings stand", () => {
    const read = readJson('{\n  "top": {\n    "braces": [1, 2]\n  }\n}');
    if (!read.ok) throw new Error(read.message);
    expect(read.placeOf(["top", "braces", 1])).toEqual({ line: 3, column: 19 });
    expect(read.placeOf(["top", "dome", "radius"])).toEqual({ line: 2, column: 10 });
  });
});
