import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseInstrument } from "../parseInstrument.ts";
import { currentVersion } from "../schema/document.ts";
import { type Migration, migrateForward, migrations } from "./index.ts";

const samples = new URL("samples/", import.meta.url);

describe("migrations", () => {
  it("has one step from each version before the current one, in order", () => {
    expect(migrations.map(({ from }) => from)).toEqual(
      Array.from({ length: currentVersion - 1 }, (_, i) => i + 1),
    );
  });

  it("keeps a frozen sample of every version, and still reads each of them", () => {
    const files = readdirSync(samples).sort();
    expect(files).toEqual(
      Array.from({ length: currentVersion }, (_, i) => `${String(i + 1).padStart(3, "0")}.fairbout.json`),
    );
    for (const file of files) {
      const text = readFileSync(new URL(file, samples), "utf8");
      expect(JSON.parse(text)).toMatchObject({ format: `fairbout/instrument@${Number(file.slice(0, 3))}` });
      const parsed = parseInstrument(text);
      expect(parsed.ok ? [] : parsed.issues, file).toEqual([]);
      if (parsed.ok) expect(parsed.document.name).toBe("Small ladder");
    }
  });

  it("applies only the steps after the document's version, oldest first, and leaves the given document alone", () => {
    const steps: Migration[] = [
      { from: 2, what: "counts in twos", apply: (d) => ({ ...d, trail: `${String(d["trail"])} 2` }) },
      { from: 1, what: "starts a trail", apply: (d) => ({ ...d, trail: "1" }) },
      { from: 3, what: "counts in threes", apply: (d) => ({ ...d, trail: `${String(d["trail"])} 3` }) },
    ];
    const old = { format: "word@1", name: "x" };
    const word = (version: number): string => `word@${version}`;
    expect(migrateForward(old, 1, steps, word)).toEqual({ format: "word@4", name: "x", trail: "1 2 3" });
    expect(migrateForward({ ...old, trail: "0" }, 3, steps, word)).toEqual({
      format: "word@4",
      name: "x",
      trail: "0 3",
    });
    expect(old).toEqual({ format: "word@1", name: "x" });
  });
});
