/**
 * Everything that a maker or a stranger may hand to the command line by mistake: each gets a plain message with its
 * place and exit status 2, without a stack trace, and nothing on standard output but what was asked for.
 */
import { spawnSync } from "node:child_process";
import {
  closeSync,
  ftruncateSync,
  mkdtempSync,
  openSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { answerTo } from "./program.ts";

const root = join(import.meta.dirname, "..", "..");
const exampleText = readFileSync(join(root, "examples", "cross-braced.fairbout.json"), "utf8");
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "fairbout-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

type Json = Record<string, unknown>;

/** Example B with one thing changed, written to a file of its own. */
function changed(change: (document: Json) => void): string {
  const document = JSON.parse(exampleText) as Json;
  change(document);
  return written(JSON.stringify(document));
}

let count = 0;
function written(text: string): string {
  const path = join(folder, `case-${count++}.fairbout.json`);
  writeFileSync(path, text);
  return path;
}

const at = (document: Json, path: string): Json =>
  path.split(".").reduce((here, key) => here[key] as Json, document);

async function refused(path: string, verb = "check") {
  const answer = await answerTo([verb, path]);
  expect(answer.status).toBe(2);
  expect(answer.out).toBe("");
  expect(answer.err).not.toMatch(/\n\s+at .*:\d+:\d+/);
  return answer.err;
}

describe("bad input", () => {
  it("refuses a file that is not JSON, with its line", async () => {
    expect(await refused(written('{ "format": "fairbout/instrument@1",\n  "name": oops }'))).toMatch(
      /line 2/i,
    );
  });

  it("refuses a version it does not know", async () => {
    const err = await refused(changed((d) => Object.assign(d, { format: "fairbout/instrument@99" })));
    expect(err).toContain("format");
    expect(err).toContain("99");
  });

  it("refuses an unknown key and names the nearest one", async () => {
    const err = await refused(changed((d) => Object.assign(at(d, "outline"), { lowerBoot: "1 mm" })));
    expect(err).toContain("outline");
    expect(err).toContain("lowerBout");
  });

  it("refuses a document without one of its sections", async () => {
    const err = await refused(
      changed((d) => {
        delete d["strings"];
      }),
    );
    expect(err).toContain("strings");
  });

  it.each([
    ["a length in kilograms", "3 kg", /kg/],
    ["a bare number", ".095", /unit/i],
    ["a number with a dash", "25-6", /25-6/],
    ["a number with a comma", "25,6", /25,6/],
    ["NaN", "NaN mm", /NaN/],
    ["an infinite length", "Infinity mm", /Infinity/],
    ["a negative length", "-489 mm", /-489/],
  ])("refuses %s", async (_title, typed, says) => {
    const err = await refused(changed((d) => Object.assign(at(d, "outline"), { length: typed })));
    expect(err).toContain("outline.length");
    expect(err).toMatch(says);
  });

  it("refuses a negative thickness", async () => {
    const err = await refused(changed((d) => Object.assign(at(d, "top"), { thickness: "-2.8 mm" })));
    expect(err).toContain("top.thickness");
  });

  it("refuses a hole wholly outside the body", async () => {
    const err = await refused(
      changed((d) => Object.assign(at(d, "soundHole"), { centre: ["344 mm", "400 mm"] })),
    );
    expect(err).toContain("soundHole");
  });

  it("refuses a brace outside the outline", async () => {
    const err = await refused(
      changed((d) => {
        const brace = (at(d, "top")["braces"] as Json[])[0]!;
        Object.assign(brace, { from: ["100 mm", "400 mm"], to: ["200 mm", "400 mm"] });
      }),
    );
    expect(err).toContain("top.braces[0]");
  });

  it("refuses an outline that crosses itself", async () => {
    const points = [
      ["0 mm", "0 mm"],
      ["100 mm", "-150 mm"],
      ["300 mm", "150 mm"],
      ["489 mm", "0 mm"],
      ["300 mm", "-150 mm"],
      ["100 mm", "150 mm"],
    ];
    const err = await refused(changed((d) => Object.assign(d, { outline: { kind: "points", points } })));
    expect(err).toContain("outline");
    expect(err).toMatch(/cross/);
  });

  it("refuses 10,000 braces", async () => {
    const err = await refused(
      changed((d) => {
        const braces = at(d, "top")["braces"] as Json[];
        Object.assign(at(d, "top"), { braces: Array.from({ length: 10_000 }, () => braces[0]) });
      }),
    );
    expect(err).toContain("top.braces");
    expect(err.length).toBeLessThan(2000);
  });

  it("refuses a file of 200 MB by its size, unread", async () => {
    const path = join(folder, "huge.fairbout.json");
    const file = openSync(path, "w");
    ftruncateSync(file, 200e6);
    closeSync(file);
    expect(await refused(path)).toMatch(/200\.0 MB/);
  });

  it("tells every fault at once", async () => {
    const err = await refused(
      changed((d) => {
        Object.assign(at(d, "outline"), { length: "3 kg" });
        Object.assign(at(d, "top"), { thickness: "-1 mm" });
        Object.assign(d, { hand: "both" });
      }),
    );
    for (const path of ["outline.length", "top.thickness", "hand"]) expect(err).toContain(path);
  });

  it.each(["voice", "slots", "load"])("%s refuses as check does", async (verb) => {
    await refused(
      changed((d) => Object.assign(at(d, "outline"), { length: "25,6" })),
      verb,
    );
  });

  it.each(["panel", "partials"])("%s refuses a file that is not a case", async (verb) => {
    await refused(written("{ nothing"), verb);
    await refused(written('{"panel": 5}'), verb);
  });

  it("refuses a missing file, a folder and a verb that it does not have", async () => {
    expect(await refused(join(folder, "absent.json"))).toContain("does not exist");
    expect(await refused(folder)).toContain("folder");
    expect((await answerTo(["sing"])).status).toBe(2);
    expect((await answerTo([])).status).toBe(2);
  });

  it("gives the faults as JSON where JSON was asked for", async () => {
    const path = changed((d) => Object.assign(at(d, "outline"), { length: "25,6" }));
    const answer = await answerTo(["check", path, "--json"]);
    expect(answer.status).toBe(2);
    expect(JSON.parse(answer.out).faults[0]).toMatchObject({ path: "outline.length" });
  });

  it("never writes over a document that exists", async () => {
    const path = join(folder, "mine.fairbout.json");
    expect((await answerTo(["new", path])).status).toBe(0);
    writeFileSync(path, "my own work");
    expect((await answerTo(["new", path])).status).toBe(2);
    expect(readFileSync(path, "utf8")).toBe("my own work");
  });

  it("ends the process with status 2, and prints to standard error alone", () => {
    const done = spawnSync(process.execPath, ["tools/fairbout.mjs", "voice", join(folder, "absent.json")], {
      cwd: root,
      encoding: "utf8",
    });
    expect(done.status).toBe(2);
    expect(done.stdout).toBe("");
    expect(done.stderr).toContain("does not exist");
  });
});
