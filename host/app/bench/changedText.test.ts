import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Json } from "./benchTypes.ts";
import { changedText, printedJson } from "./changedText.ts";
import { pathOf, stepsOf } from "./fieldPath.ts";

const read = (name: string): string =>
  readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
const examples = ["low-radial", "cross-braced", "small-ladder"].map(read);
const low = examples[0] ?? "";

/** Lines that differ, by number of lines taken out and put in. */
function moved(before: string, after: string): { out: string[]; in: string[] } {
  const a = before.split("\n");
  const b = after.split("\n");
  let head = 0;
  while (head < a.length && a[head] === b[head]) head++;
  let tail = 0;
  while (tail < a.length - head && tail < b.length - head && a.at(-1 - tail) === b.at(-1 - tail)) tail++;
  return { out: a.slice(head, a.length - tail), in: b.slice(head, b.length - tail) };
}

/** Every path of a document with the plain value there. */
function leaves(value: Json, path = ""): [string, Json][] {
  if (Array.isArray(value)) return value.flatMap((v: Json, i) => leaves(v, `${path}[${i}]`));
  if (typeof value === "object" && value !== null)
    return Object.entries(value).flatMap(([k, v]) => leaves(v, path === "" ? k : `${path}.${k}`));
  return [[path, value]];
}

describe("a field's path", () => {
  it("is read into steps and written back as issues write it", () => {
    expect(stepsOf("top.braces[2].profile.heights[0][1]")).toEqual([
      "top",
      "braces",
      2,
      "profile",
      "heights",
      0,
      1,
    ]);
    for (const path of ["", "$schema", "strings.set[3].construction.wraps[0].diameter"])
      expect(pathOf(stepsOf(path))).toBe(path);
    expect(() => stepsOf("top..braces")).toThrow(/no path/);
  });
});

describe("a changed document", () => {
  it("is the same text where every field is set to what it is", () => {
    for (const text of examples)
      for (const [path, value] of leaves(JSON.parse(text) as Json))
        expect(changedText(text, [{ path, value }]), path).toBe(text);
  });

  it("differs in one line where one plain field changes, anywhere in the examples", () => {
    for (const text of examples)
      for (const [path, value] of leaves(JSON.parse(text) as Json)) {
        const after = changedText(text, [
          { path, value: typeof value === "number" ? value + 1 : `${value}x` },
        ]);
        const { out, in: put } = moved(text, after);
        expect([out.length, put.length], path).toEqual([1, 1]);
      }
  });

  it("keeps odd spacing, order and escapes of what was not changed", () => {
    const text = '{"b" :  1,\n\t"a\\u0020" : [ 1 ,2 , "x\\"]" ],  "c":{ }}';
    expect(changedText(text, [{ path: "b", value: 22 }])).toBe(text.replace("1,", "22,"));
    expect(changedText(text, [{ path: "a [1]", value: 5 }])).toBe(text.replace("2 ,", "5 ,"));
    expect(changedText(text, [{ path: "c.d", value: true }])).toBe(text.replace("{ }", '{ "d": true }'));
  });

  it("takes keys and entries out, first, last and only ones", () => {
    const at = (path: string): unknown => JSON.parse(changedText(low, [{ path, value: undefined }]));
    expect(at("brief.client")).not.toHaveProperty("brief.client");
    expect(at("log[3]")).toHaveProperty("log.length", 3);
    expect(at("log[0]")).toHaveProperty("log.length", 3);
    expect(at("brief.papers[0]")).toHaveProperty("brief.papers", []);
    expect(at("nut.clearance.treble")).toHaveProperty("nut.clearance", { bass: "0.4 mm" });
    expect(changedText(low, [{ path: "no.such.field", value: undefined }])).toBe(low);
  });

  it("adds what was taken out of the end again, letter by letter", () => {
    for (const path of ["log[3]", "top.braces[6].ends", "brief.papers", "strings.tunings[1].notes[5]"]) {
      const value = stepsOf(path).reduce<Json>((v, s) => (v as never)[s], JSON.parse(low) as Json);
      const gone = changedText(low, [{ path, value: undefined }]);
      const back = changedText(gone, [{ path, value }]);
      expect(JSON.parse(back), path).toEqual(JSON.parse(low));
      expect(back, path).toBe(low);
    }
  });

  it("makes the groups that are missing on the way", () => {
    const after = changedText(low, [{ path: "fittings.guard.mass", value: "11 g" }]);
    expect(JSON.parse(after)).toHaveProperty("fittings.guard", { mass: "11 g" });
    expect(moved(low, after).in.join("\n")).toContain('    "guard": { "mass": "11 g" }');
    expect(() => changedText(low, [{ path: "name.of", value: 1 }])).toThrow(/plain value/);
    expect(() => changedText(low, [{ path: "log[9]", value: 1 }])).toThrow(/list of 4/);
  });

  it("writes values as the examples write them: on one line where it fits into 110 columns, else one member a line", () => {
    const wide = { name: "n".repeat(60), notes: ["C4", "G3", "F3", "C3", "G2", "C2"], more: "m".repeat(30) };
    const text = printedJson({ list: [wide, { a: 1 }] }, 0, 0, 0);
    expect(text.split("\n")).toHaveLength(10);
    expect(Math.max(...text.split("\n").map((l) => l.length))).toBeLessThanOrEqual(110);
    expect(text).toContain('\n    { "a": 1 }\n');
    expect(JSON.parse(text)).toEqual({ list: [wide, { a: 1 }] });
  });
});
