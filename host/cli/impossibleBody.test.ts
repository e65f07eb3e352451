/**
 * Bodies that no hand can build, and words that no verb knows: each is refused within seconds, with the path or the part, what was
 * found and what is allowed, exit status 2 and nothing on standard output.
 */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { outFault, writeInto } from "./answer.ts";
import { engineFault } from "./engineFault.ts";
import { answerTo } from "./program.ts";

const examples = join(import.meta.dirname, "..", "..", "examples");
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "fairbout-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Replaces the value at a path of the document ("rods.0.to.depth"). */
type Change = readonly [path: string, value: unknown];

/** What the verb says of an example with some values changed. */
async function refused(
  example: string,
  changes: readonly Change[],
  words: readonly string[] = ["check"],
): Promise<string> {
  const document = JSON.parse(readFileSync(join(examples, `${example}.fairbout.json`), "utf8"));
  for (const [path, value] of changes) {
    const keys = path.split(".");
    const last = keys.pop() ?? "";
    const holder = keys.reduce((here, key) => here[key], document);
    holder[last] = value;
  }
  const file = join(folder, "case.fairbout.json");
  writeFileSync(file, JSON.stringify(document));
  const [verb = "", ...rest] = words;
  const answer = await answerTo([verb, file, ...rest]);
  expect(answer.status).toBe(2);
  expect(answer.out).toBe("");
  expect(answer.err).not.toMatch(/\n\s+at .*:\d+:\d+|degree of freedom/);
  // the words as one line, however they were wrapped
  return answer.err.replace(/\s+/g, " ");
}

const block = (centre: readonly string[], along = "20 mm") => [
  { name: "spare block", wood: "Basswood", along, across: "60 mm", height: "40 mm", centre },
];

describe("an impossible body is refused with its part and what is allowed:", () => {
  it.each<readonly [string, string, readonly Change[], readonly (string | RegExp)[]]>([
    [
      "back through the top",
      "cross-braced",
      [
        ["back.dome", { radius: "1 m", apex: ["225 mm", "290 mm"] }],
        ["sides.depthAtTail", "40 mm"],
        ["sides.depthAtNeck", "40 mm"],
      ],
      [/ sides\b/, "top and back meet inside the box", /-\d+(\.\d)? mm/, "domes"],
    ],
    [
      "no depth",
      "cross-braced",
      [["sides.depthAtNeck", "0 mm"]],
      ["sides.depthAtNeck", "zero", "40 mm to 200 mm"],
    ],
    [
      "a dome with its apex far off the body",
      "cross-braced",
      [["back.dome", { radius: "1.5 m", apex: ["1200 mm", "0 mm"] }]],
      ["back.dome", "53 deg", "at most 30 deg"],
    ],
    [
      "a hole larger than the top",
      "cross-braced",
      [
        [
          "soundHole",
          {
            kind: "curve",
            points: [
              ["-300 mm", "-300 mm"],
              ["250 mm", "-500 mm"],
              ["800 mm", "-300 mm"],
              ["800 mm", "300 mm"],
              ["250 mm", "500 mm"],
              ["-300 mm", "300 mm"],
            ],
          },
        ],
      ],
      ["soundHole", "leaves hardly any top", "smaller"],
    ],
    [
      "a hole that cuts the top apart",
      "cross-braced",
      [
        ["soundHole.semiAxes", ["20 mm", "200 mm"]],
        ["soundHole.centre", ["300 mm", "0 mm"]],
      ],
      ["soundHole", "cuts the top apart", /\d+ and \d+ cm2/],
    ],
    [
      "a block wholly outside",
      "cross-braced",
      [["blocks.others", block(["300 mm", "400 mm"])]],
      ["blocks.others[0]", "spare block", "outside the body"],
    ],
    [
      "a block mostly outside",
      "cross-braced",
      [["blocks.others", block(["146 mm", "205 mm"])]],
      ["blocks.others[0]", /Only \d+ %/, "at least half"],
    ],
    [
      "a block in the empty hole",
      "cross-braced",
      [["blocks.others", block(["344 mm", "0 mm"])]],
      ["blocks.others[0]", "touches nothing"],
    ],
    [
      "a block higher than the box is deep",
      "cross-braced",
      [["blocks.tail.height", "150 mm"]],
      ["blocks.tail.height", "150.0 mm high", /at most 10\d\.\d mm/],
    ],
    [
      "a neck block wider than the body",
      "low-radial",
      [["blocks.neck.across", "600 mm"]],
      ["blocks.neck.across", "600 mm", "250 mm"],
    ],
    [
      "a rod that ends outside",
      "low-radial",
      [["rods.0.to.at", ["305 mm", "300 mm"]]],
      ["rods[0].to.at", "bass side rod", "outside"],
    ],
    [
      "a rod that ends below the back",
      "low-radial",
      [["rods.1.to.depth", "180 mm"]],
      ["rods[1].to.depth", "treble side rod", "180.0 mm", "at most"],
    ],
    [
      "a rod that ends in the air",
      "low-radial",
      [["rods.0.to.at", ["200 mm", "20 mm"]]],
      ["rods[0].to", "bass side rod", "stands free", "at most 20.0 mm"],
    ],
    [
      "a rod of no length",
      "low-radial",
      [["rods.0.to", { at: ["452 mm", "22 mm"], depth: "45 mm" }]],
      ["rods[0]", "bass side rod", "0.0 mm long"],
    ],
    [
      "a brace through the back",
      "cross-braced",
      [
        ["sides.depthAtTail", "45 mm"],
        ["sides.depthAtNeck", "45 mm"],
        ["blocks.neck.height", "45 mm"],
        ["blocks.tail.height", "45 mm"],
        ["top.braces.0.height", "60 mm"],
      ],
      ["top.braces[0].height", "long brace", "run through the back"],
    ],
    [
      "linings that meet",
      "cross-braced",
      [
        ["sides.depthAtTail", "45 mm"],
        ["sides.depthAtNeck", "45 mm"],
        ["blocks.neck.height", "45 mm"],
        ["blocks.tail.height", "45 mm"],
        ["sides.topLining.height", "30 mm"],
        ["sides.backLining.height", "30 mm"],
      ],
      ["sides.topLining.height", "60.0 mm", "with the lining of the back"],
    ],
    [
      "wood without density",
      "cross-braced",
      [["top.wood.density.value", "0 kg/m3"]],
      ["top.wood.density", "zero", "60 kg/m3"],
    ],
    [
      "wood of negative density",
      "cross-braced",
      [["back.wood.density.value", "-610 kg/m3"]],
      ["back.wood.density", "negative", "60 kg/m3"],
    ],
    [
      "a rod without density",
      "low-radial",
      [["rods.0.density", "0 kg/m3"]],
      ["rods[0].density", "zero", "300 kg/m3"],
    ],
    ["a plate of no thickness", "cross-braced", [["back.thickness", "0 mm"]], ["back.thickness", "zero"]],
    [
      "a side of no thickness",
      "cross-braced",
      [["sides.thickness", "0 mm"]],
      ["sides.thickness", "zero", "0.8 mm"],
    ],
  ])("%s", async (_title, example, changes, says) => {
    const err = await refused(example, changes);
    for (const words of says) expect(err).toMatch(words);
  });

  it("every verb refuses it as check does, before it computes", async () => {
    for (const verb of ["voice", "load", "body", "try"]) {
      const err = await refused("cross-braced", [["blocks.tail.height", "150 mm"]], [verb]);
      expect(err).toContain("blocks.tail.height");
    }
  });
});

describe("words that no verb knows", () => {
  it("an unknown state is refused with the states there are", async () => {
    const err = await refused("cross-braced", [], ["body", "--state", "painted"]);
    expect(err).toContain('"painted"');
    for (const state of ["free top", "closed box", "strung"]) expect(err).toContain(`"${state}"`);
  });

  it.each([
    ["no change", [], /--to .*=90 %/],
    [
      "a misspelt path, with the nearest",
      ["--to", "top.brace[0].height=90 %"],
      /Is "top.braces\[0\].height" meant/,
    ],
    ["a value that is no percentage", ["--to", "top.thickness=2.5 mm"], /percentage, like/],
    ["a negative percentage", ["--to", "top.thickness=-20 %"], /percentage, like/],
    ["too small a share", ["--to", "top.braces[0].height=5 %"], /20 % to 500 %/],
    ["too large a share", ["--to", "top.braces[0].height=900 %"], /20 % to 500 %/],
    ["one value twice", ["--to", "top.braces[0].height=90 %", "--to", "top.braces[0].height=80 %"], /twice/],
  ])("try refuses %s", async (_title, words, says) => {
    expect(await refused("cross-braced", [], ["try", ...words])).toMatch(says);
  });

  it.each(["voice", "load", "body"])(
    "%s refuses a folder that cannot be, before it computes",
    async (verb) => {
      const file = join(folder, "a-file");
      writeFileSync(file, "mine");
      expect(await refused("cross-braced", [], [verb, "--out", file])).toMatch(/--out.*is a file/);
      const below = join(file, "deeper", "still");
      expect(await refused("cross-braced", [], [verb, "--out", below])).toMatch(
        /a-file is a file, not a folder/,
      );
      expect(readFileSync(file, "utf8")).toBe("mine");
    },
  );
});

describe("files are written whole or not at all", () => {
  it("when one of them cannot be written, none is, and nothing half-written stays", () => {
    const out = join(folder, "out");
    expect(outFault(out)).toBeNull();
    expect(writeInto(out, { "one.json": "1", "no/such/folder.json": "2" })).toMatch(/ENOENT/);
    expect(existsSync(join(out, "one.json"))).toBe(false);
    expect(existsSync(join(out, "one.json.part"))).toBe(false);
  });
});

describe("what the engine refuses, in the maker's words", () => {
  it("says lengths in millimetres and what would mend it", () => {
    const fault = engineFault({
      reason: "block-touches-nothing",
      detail: "spare block at (0.200, 0.000, -0.050) m touches no plate, side or other block",
    });
    expect(fault.message).toBe("Spare block at (200, 0, -50) mm touches no plate, side or other block.");
    expect(fault.path).toBe("blocks");
    expect(fault.remedy).toBeTruthy();
  });

  it("is told from a fault of the program where no document should bring it about", () => {
    const { message, remedy } = engineFault({ reason: "not-converged", detail: "pair 3 of 54" });
    expect(message).toContain("could not be computed (not-converged): pair 3 of 54");
    expect(remedy).toContain("report it");
  });

  it("that work was called off is no fault", () => {
    expect(engineFault({ reason: "cancelled", detail: "" }).message).toContain("nothing was written");
  });
});
