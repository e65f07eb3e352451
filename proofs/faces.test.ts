import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { facesText } from "../tools/faces.ts";

it("docs/faces.txt shows today's faces (npm run faces writes it anew)", () => {
  expect(readFileSync(join(import.meta.dirname, "..", "docs", "faces.txt"), "utf8")).toBe(facesText());
});
