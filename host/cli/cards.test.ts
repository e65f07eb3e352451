import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { withInstrument } from "./instrument.ts";
import { setup } from "./setup.ts";
import { slots } from "./slots.ts";

const folder = mkdtempSync(join(tmpdir(), "fairbout-cards-"));
afterAll(() => rmSync(folder, { recursive: true }));
const example = new URL("../../examples/low-radial.fairbout.json", import.meta.url).pathname;

describe("shop cards", () => {
  it("are written beside the JSON of slots and of setup", async () => {
    for (const [name, verb] of [
      ["slots", slots],
      ["setup", setup],
    ] as const) {
      const out = join(folder, name);
      const answer = await withInstrument(example, false, (opened) => verb(opened, { out }));
      expect(answer.err).toBe("");
      expect(() => JSON.parse(readFileSync(join(out, `${name}.json`), "utf8"))).not.toThrow();
      const cards = readFileSync(join(out, "cards.html"), "utf8");
      expect(cards).toContain("<title>Low radial: cards for");
      expect(answer.out).toContain(join(out, "cards.html"));
    }
  });

  it("are not begun where nothing may be written", async () => {
    const answer = await withInstrument(example, false, (opened) => slots(opened, { out: example }));
    expect(answer.status).toBe(2);
    expect(answer.err).toContain("--out");
  });
});
