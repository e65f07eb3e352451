/** The strings verb from the command line: text for the bench, JSON alone, files, refusals and its exit status. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { answerTo } from "./program.ts";

const low = join(import.meta.dirname, "..", "..", "examples", "low-radial.fairbout.json");
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "fairbout-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe("fairbout strings", () => {
  it("tells strings, tunings, wires and verdicts, no line wider than the page", async () => {
    const { out, err, status } = await answerTo(["strings", low, "--balance", "feel"]);
    expect(err).toBe("");
    expect(status).toBe(0);
    for (const matter of [
      "0.021 hex, wrap 0.0188 phosphor-bronze",
      "N/mm",
      "C suspended",
      "A set of equal feel",
      "steel: 7850 kg/m3",
      "Strings hold at pitch",
    ])
      expect(out).toContain(matter);
    for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });

  it("prints the report as JSON and nothing else, and writes the same into a folder", async () => {
    const into = join(folder, "out");
    const { out } = await answerTo(["strings", low, "--json", "--tuning", "open F", "--out", into]);
    const report = JSON.parse(out) as { tuning: string; strings: { note: string }[] };
    expect(report.tuning).toBe("open F");
    expect(report.strings[5]!.note).toBe("C2");
    expect(readFileSync(join(into, "strings.json"), "utf8")).toBe(out);
  });

  it("refuses a tuning and a balance it does not know, naming what there is", async () => {
    const tuning = await answerTo(["strings", low, "--tuning", "E"]);
    expect(tuning.status).toBe(2);
    expect(tuning.err).toContain('"C suspended"');
    const balance = await answerTo(["strings", low, "--balance", "weight", "--json"]);
    expect(balance.status).toBe(2);
    expect(JSON.parse(balance.out)).toMatchObject({ faults: [{ allowed: "tension or feel" }] });
  });

  it("ends with 1 where a string would break, and says what would hold", async () => {
    const document = JSON.parse(readFileSync(low, "utf8")) as { strings: { set: { note: string }[] } };
    document.strings.set[0]!.note = "B4";
    const path = join(folder, "high.fairbout.json");
    writeFileSync(path, JSON.stringify(document));
    const { out, status } = await answerTo(["strings", path]);
    expect(status).toBe(1);
    expect(out).toContain("string 1 would break at B4; works: the note");
  });
});
