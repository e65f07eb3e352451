import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseQuantity } from "#engine/units";
import type { Issue } from "./issue.ts";
import { parseInstrument } from "./parseInstrument.ts";

export function exampleText(name: string): string {
  return readFileSync(new URL(`../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
}

type Json = Record<string, unknown>;

/** The example with one place set to a value (undefined: taken out), as text. */
function changed(path: readonly (string | number)[], value: unknown, name = "cross-braced"): string {
  const document = JSON.parse(exampleText(name)) as Json;
  let at: Json = document;
  for (const key of path.slice(0, -1)) at = at[key] as Json;
  const last = path[path.length - 1]!;
  if (value === undefined) delete at[last];
  else at[last] = value;
  return JSON.stringify(document, null, 2);
}

function issuesOf(text: string): readonly Issue[] {
  const parsed = parseInstrument(text);
  return parsed.ok ? [] : parsed.issues;
}

/** The one issue of a document with one fault. */
function only(text: string): Issue {
  const issues = issuesOf(text);
  expect(issues.map(({ path, message }) => `${path}: ${message}`)).toHaveLength(1);
  return issues[0]!;
}

describe("the examples", () => {
  it.each(["low-radial", "cross-braced", "small-ladder"])("%s passes the schema", (name) => {
    expect(issuesOf(exampleText(name))).toEqual([]);
  });
});

const refusals: readonly (readonly [
  string,
  readonly (string | number)[],
  unknown,
  Partial<Issue>,
  RegExp,
])[] = [
  [
    "a wrong version",
    ["format"],
    "fairbout/instrument@7",
    { code: "wrong-version", path: "format" },
    /reads up to version 1/,
  ],
  ["a version that never was", ["format"], "fairbout/instrument@0", { code: "wrong-version" }, /never was/],
  ["another format", ["format"], "something else", { code: "wrong-format" }, /not the format word/],
  ["no format", ["format"], undefined, { code: "missing", path: "format" }, /missing/],
  [
    "an unknown key at the root",
    ["sond_hole"],
    {},
    { code: "unknown-key", path: "sond_hole" },
    /did you mean "soundHole"/,
  ],
  [
    "an unknown key inside",
    ["top", "braces", 2, "heigth"],
    "3 mm",
    { code: "unknown-key", path: "top.braces[2].heigth" },
    /did you mean "height"/,
  ],
  [
    "an unknown key of a wood",
    ["top", "wood", "densty"],
    "410 kg/m3",
    { code: "unknown-key", path: "top.wood.densty" },
    /did you mean "density"/,
  ],
  [
    "an unknown key in a choice",
    ["soundHole", "center"],
    ["1 mm", "2 mm"],
    { code: "unknown-key", path: "soundHole.center" },
    /did you mean "centre"/,
  ],
  ["an unknown key nothing is like", ["zzzzzzzz"], 1, { code: "unknown-key" }, /not known here\./],
  ["a missing section", ["bridge"], undefined, { code: "missing", path: "bridge" }, /"bridge" is missing/],
  [
    "a missing field",
    ["neck", "pitch"],
    undefined,
    { code: "missing", path: "neck.pitch" },
    /"pitch" is missing/,
  ],
  ["a missing kind", ["outline", "kind"], undefined, { code: "missing", path: "outline.kind" }, /missing/],
  [
    "a length in kilograms",
    ["outline", "length"],
    "489 kg",
    { code: "dimension", path: "outline.length" },
    /a mass, but a length/,
  ],
  [
    "a range for a number",
    ["outline", "length"],
    "25-6",
    { code: "doubtful", path: "outline.length" },
    /range/,
  ],
  ["a comma", ["outline", "length"], "25,6", { code: "doubtful" }, /comma/],
  ["a comma with its unit", ["outline", "length"], "1.234,5 mm", { code: "doubtful" }, /comma/],
  [
    "a leading point",
    ["top", "thickness"],
    ".095",
    { code: "doubtful", path: "top.thickness" },
    /zero before it, and the unit/,
  ],
  ["a text without unit", ["top", "thickness"], "2.8", { code: "bare", path: "top.thickness" }, /no unit/],
  ["a bare number", ["top", "thickness"], 2.8, { code: "bare", path: "top.thickness" }, /in which unit/],
  [
    "a bare number in a measured value",
    ["top", "thickness", "value"],
    2.8,
    { code: "bare", path: "top.thickness.value" },
    /in which unit/,
  ],
  [
    "NaN as text",
    ["saddle", "width"],
    "NaN mm",
    { code: "not-a-number", path: "saddle.width" },
    /not a number/,
  ],
  ["infinity as text", ["saddle", "width"], "Infinity mm", { code: "not-a-number" }, /not a number/],
  ["a huge exponent", ["saddle", "width"], "1e999 mm", { code: "out-of-range" }, /beyond anything/],
  [
    "a negative thickness",
    ["top", "thickness", "value"],
    "-2.8 mm",
    { code: "negative", path: "top.thickness.value" },
    /negative/,
  ],
  ["a zero thickness", ["back", "thickness"], "0 mm", { code: "zero", path: "back.thickness" }, /zero/],
  [
    "a thickness ten times too large",
    ["top", "thickness", "value"],
    "28 mm",
    { code: "too-large" },
    /more than 15 mm/,
  ],
  ["an unknown word", ["hand"], "rihgt", { code: "unknown-word", path: "hand" }, /did you mean "right"/],
  [
    "an unknown kind",
    ["soundHole", "kind"],
    "elipse",
    { code: "unknown-word", path: "soundHole.kind" },
    /did you mean "ellipse"/,
  ],
  [
    "a spread without meaning",
    ["top", "wood", "density", "spread"],
    "small",
    { code: "spread" },
    /start with a number/,
  ],
  [
    "an origin without meaning",
    ["top", "wood", "density", "how"],
    "guessed",
    { code: "unknown-word", path: "top.wood.density.how" },
    /none of the words/,
  ],
  ["a list for a group", ["saddle"], [], { code: "wrong-type", path: "saddle" }, /list of 0/],
  ["null", ["saddle"], null, { code: "wrong-type", path: "saddle" }, /null/],
  ["a place with one number", ["soundHole", "centre"], ["344 mm"], { path: "soundHole.centre" }, /./],
  ["no strings", ["strings", "set"], [], { code: "too-few", path: "strings.set" }, /only 0 entries/],
  [
    "half a fret",
    ["fingerboard", "frets"],
    20.5,
    { code: "out-of-range", path: "fingerboard.frets" },
    /whole number/,
  ],
  [
    "a word for the square fret that is neither nut nor bridge",
    ["strings", "scale"],
    { kind: "skewed", bass: "660 mm", treble: "640 mm", squareFret: "saddle" },
    {
      code: "unknown-word",
      path: "strings.scale.squareFret",
      allowed: expect.stringContaining("any number"),
    },
    /none of the words/,
  ],
  [
    "partial frets",
    ["fingerboard", "partialFrets"],
    [{ fret: 5.5, strings: [1, 2] }],
    {
      code: "partial-frets",
      path: "fingerboard.partialFrets",
      remedy: expect.stringContaining("centsTable"),
    },
    /cut right across/,
  ],
  [
    "a glue that strength is not known for",
    ["bridge", "glue"],
    "hyde",
    { code: "unknown-word", path: "bridge.glue" },
    /did you mean "hide"/,
  ],
  [
    "a reading without how it was taken",
    ["setup", "measured"],
    [{ string: 1, fret: 12, cents: 2 }],
    { code: "missing", path: "setup.measured[0].how" },
    /"how" is missing/,
  ],
  [
    "a post with one place",
    ["neck", "head", "posts"],
    [["44 mm"], ["44 mm", "1 mm"], ["44 mm", "1 mm"], ["44 mm", "1 mm"]],
    { code: "too-few", path: "neck.head.posts[0]" },
    /./,
  ],
  [
    "a nut's clearance in kilograms",
    ["nut"],
    { clearance: { bass: "0.4 kg", treble: "0.4 mm" } },
    { code: "dimension", path: "nut.clearance.bass" },
    /a mass, but a length/,
  ],
  ["a day that is none", ["brief", "due"], "2027-02-30", { code: "date", path: "brief.due" }, /not a day/],
  ["an empty name", ["name"], "  ", { code: "text", path: "name" }, /Nothing is written/],
];

describe("parseInstrument", () => {
  it.each(refusals)("refuses %s at its place", (_, path, value, expected, message) => {
    const issue = only(changed(path, value));
    expect(issue).toMatchObject({ severity: "stop", ...expected });
    expect(issue.message).toMatch(message);
    expect(issue.line).toBeGreaterThan(0);
  });

  it("says for every refusal what was found, what is allowed and (for quantities) an example that is itself allowed", () => {
    for (const [, path, value] of refusals) {
      for (const issue of issuesOf(changed(path, value))) {
        expect(issue.found, issue.path).toBeTruthy();
        expect(issue.allowed, issue.path).toBeTruthy();
      }
    }
    const length = only(changed(["outline", "length"], "489 kg"));
    expect(parseQuantity(JSON.parse(length.example!) as string, "length").ok).toBe(true);
  });

  it("reports all faults at once, in the order of the document", () => {
    const document = JSON.parse(exampleText("cross-braced")) as Json;
    const top = document["top"] as Json;
    (top["braces"] as Json[])[0]!["width"] = "8";
    (top["braces"] as Json[])[3]!["hight"] = "8 mm";
    (document["saddle"] as Json)["slotDepth"] = "5 kg";
    document["strng"] = {};
    delete document["climate"];
    const found = issuesOf(JSON.stringify(document)).map(({ code, path }) => `${code} ${path}`);
    expect(found.sort()).toEqual(
      [
        "bare top.braces[0].width",
        "dimension saddle.slotDepth",
        "missing climate",
        "unknown-key strng",
        "unknown-key top.braces[3].hight",
      ].sort(),
    );
  });

  it("names line and column of a fault and of what is not JSON", () => {
    const text = '{\n  "format": "fairbout/instrument@1",\n  "name": 7\n}';
    expect(issuesOf(text).find(({ path }) => path === "name")).toMatchObject({ line: 3, column: 11 });
    expect(only('{\n  "format": "fairbout/instrument@1",\n}')).toMatchObject({
      code: "not-json",
      line: 3,
      column: 1,
    });
    expect(only("not json at all")).toMatchObject({ code: "not-json", line: 1, column: 1 });
    expect(only("[]")).toMatchObject({ code: "not-a-document" });
  });

  it("refuses NaN and infinite numbers written without quotes", () => {
    expect(only('{"format": "fairbout/instrument@1", "top": NaN}').message).toMatch(/NaN is not a number/);
    expect(only('{"format": "fairbout/instrument@1", "top": 1e999}').message).toMatch(/too large a number/);
  });

  it("refuses a crowd of 10,000 braces with one message, whether or not each of them is well made", () => {
    const brace = (JSON.parse(exampleText("cross-braced")) as { top: { braces: Json[] } }).top.braces[0]!;
    for (const one of [brace, { nonsense: true }, null]) {
      const issue = only(
        changed(
          ["top", "braces"],
          Array.from({ length: 10_000 }, () => one),
        ),
      );
      expect(issue).toMatchObject({ code: "too-many", path: "top.braces", found: "10000 braces" });
    }
  });

  it("refuses a text of more than 16 MB before reading it", () => {
    const issue = only(" ".repeat(200e6));
    expect(issue).toMatchObject({ code: "too-large", path: "" });
    expect(issue.message).toMatch(/200\.0 MB/);
  });

  it("lists at most a hundred faults and says how many more there are", () => {
    const issues = issuesOf(
      changed(
        ["log"],
        Array.from({ length: 300 }, () => ({ kind: "photo" })),
      ),
    );
    expect(issues).toHaveLength(101);
    expect(issues[100]!.message).toMatch(/\d+ more faults/);
  });

  it("names the first of a crowd of unknown keys and counts the rest", () => {
    const crowd = Array.from({ length: 100_000 }, (_, i) => `"k${i}": ${i}`).join(", ");
    const issues = issuesOf(exampleText("cross-braced").replace('"name":', `${crowd}, "name":`));
    expect(issues).toHaveLength(21);
    expect(issues[20]!.message).toContain("99980 more keys");
  });

  it("treats a key like __proto__ as any unknown key", () => {
    const text = exampleText("cross-braced").replace('"name":', '"__proto__": {}, "name":');
    expect(only(text)).toMatchObject({ code: "unknown-key", path: "__proto__" });
  });
});
