/** The setup verb from the command line: text for the bench, JSON alone, files, and its exit status. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { answerTo } from "./program.ts";

const examples = join(import.meta.dirname, "..", "..", "examples");
const low = join(examples, "low-radial.fairbout.json");
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "fairbout-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

type Json = Record<string, unknown>;

function changed(name: string, change: (document: Json) => void): string {
  const document = JSON.parse(readFileSync(low, "utf8")) as Json;
  change(document);
  const path = join(folder, `${name}.fairbout.json`);
  writeFileSync(path, JSON.stringify(document));
  return path;
}

describe("fairbout setup", () => {
  it("tells a maker every matter in its own table, no line wider than the page", async () => {
    const { out, err, status } = await answerTo(["setup", low]);
    expect(err).toBe("");
    expect(status).toBe(0);
    for (const matter of [
      "saddle, treble",
      "Action over each fret",
      "open F:",
      "Relief",
      "Saddle slot",
      "reach",
    ])
      expect(out).toContain(matter);
    for (const line of out.split("\n")) expect(line.length, line).toBeLessThanOrEqual(100);
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("gives JSON alone with units in its names, and writes it into a folder", async () => {
    const { out } = await answerTo(["setup", low, "--json", "--out", folder]);
    const report = JSON.parse(out);
    expect(report.strings).toHaveLength(6);
    expect(report.strings[0].actionM[12]).toBeCloseTo(1.9e-3, 12);
    expect(report.tunings.map((t: Json) => t["name"])).toEqual(["D standard", "C suspended", "open F"]);
    expect(report.stamp.stage).toBe("setup");
    expect(JSON.parse(readFileSync(join(folder, "setup.json"), "utf8"))).toEqual(report);
  });

  it("ends with status 1 where a string buzzes everywhere", async () => {
    const flat = changed("flat", (d) => {
      (d["strings"] as Json)["action"] = { bass: "0.8 mm", treble: "0.6 mm" };
    });
    const { out, status } = await answerTo(["setup", flat]);
    expect(status).toBe(1);
    expect(out).toMatch(/\[STOP\] {2}Buzz on the frets/);
  });
});
