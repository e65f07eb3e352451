import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { instrumentJsonSchema } from "./jsonSchema.ts";

type Node = { readonly [key: string]: unknown };

/** Every part of a JSON Schema, with its place. */
function parts(node: unknown, place = "#"): (readonly [string, Node])[] {
  if (Array.isArray(node)) return node.flatMap((item, i) => parts(item, `${place}/${i}`));
  if (typeof node !== "object" || node === null) return [];
  const here = node as Node;
  return [
    [place, here] as const,
    ...Object.entries(here).flatMap(([key, value]) =>
      key === "examples" ? [] : parts(value, `${place}/${key}`),
    ),
  ];
}

describe("the published JSON Schema", () => {
  const schema = instrumentJsonSchema();

  it("is the one that is committed (else: node tools/run.mjs tools/schema.ts)", () => {
    const committed: unknown = JSON.parse(
      readFileSync(new URL("../../docs/instrument.schema.json", import.meta.url), "utf8"),
    );
    expect(committed).toEqual(JSON.parse(JSON.stringify(schema)));
  });

  it("allows no unknown key anywhere", () => {
    const open = parts(schema).filter(
      ([, node]) => node["type"] === "object" && node["additionalProperties"] !== false,
    );
    expect(open.map(([place]) => place)).toEqual([]);
  });

  it("has patterns that its own examples match", () => {
    const quantities = parts(schema).filter(([, node]) => typeof node["pattern"] === "string");
    expect(quantities.length).toBeGreaterThan(100);
    for (const [place, node] of quantities) {
      const pattern = new RegExp(node["pattern"] as string, "u");
      for (const example of (node["examples"] as string[] | undefined) ?? [])
        expect(pattern.test(example), `${place}: ${example}`).toBe(true);
      for (const bad of ["25", "25,6 mm", ".095 in", "25-6 in", "NaN mm", ""])
        expect(pattern.test(bad), `${place}: ${bad}`).toBe(false);
    }
  });

  it("describes every field", () => {
    const leaves = parts(schema).filter(
      ([, node]) => ["string", "number"].includes(node["type"] as string) && node["const"] === undefined,
    );
    expect(
      leaves.filter(([, node]) => typeof node["description"] !== "string").map(([place]) => place),
    ).toEqual([]);
  });
});
