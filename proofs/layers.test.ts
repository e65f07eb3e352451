/** Holds the import order of the engine: strictly downwards, never a sibling, and only through a module's index. */
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { describe, expect, it } from "vitest";

const root = join(import.meta.dirname, "..");

/** Lowest first; modules on one line are siblings and may not know each other. */
const layers = [
  ["units"],
  ["numerics"],
  ["geometry", "woods", "signals"],
  ["meshing", "strings"],
  ["shells", "air"],
  ["response"],
  ["notes"],
  ["instrument"],
  ["verdicts"],
  ["drawings"],
  ["pipeline"],
];
const rank = new Map(layers.flatMap((names, level) => names.map((name) => [name, level] as const)));

function sources(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => join(folder, name));
}

function imports(file: string): string[] {
  const text = readFileSync(join(root, file), "utf8");
  return [...text.matchAll(/(?:from|import)\s*\(?\s*"([^"]+)"/g)].map((match) => match[1]!);
}

/** The faults of one file's imports, in words. */
function importFaults(file: string, specifiers: readonly string[]): string[] {
  const [top, module] = file.split(/[\\/]/) as [string, string];
  const isTest = /\.(test|contract)\.ts$/.test(file);
  const faults: string[] = [];
  for (const specifier of specifiers) {
    const engine = /^#engine\/(.+)$/.exec(specifier)?.[1];
    if (engine !== undefined) {
      const to = rank.get(engine);
      if (to === undefined) faults.push(`${file}: no module #engine/${engine}`);
      else if (top === "engine" && to >= rank.get(module)!)
        faults.push(`${file}: ${module} may not import ${engine}`);
    } else if (top === "engine" && /^(#host|#kernels|#proofs|node:)/.test(specifier) && !isTest) {
      faults.push(`${file}: the engine may not import ${specifier}`);
    } else if (specifier.startsWith(".")) {
      const target = relative(root, join(root, file, "..", specifier)).split(/[\\/]/);
      const inside = top === "engine" ? target[0] === top && target[1] === module : target[0] === top;
      if (!inside && !specifier.endsWith(".json")) faults.push(`${file}: ${specifier} leaves its module`);
      if (!inside && specifier.endsWith(".json") && top === "engine")
        faults.push(`${file}: ${specifier} leaves its module`);
    }
  }
  return faults;
}

describe("import order", () => {
  it("knows every module of the engine", () => {
    const found = readdirSync(join(root, "engine"));
    expect(found.filter((name) => !rank.has(name))).toEqual([]);
  });

  it("goes strictly downwards, through the index of each module", () => {
    const files = ["engine", "host"].flatMap(sources);
    expect(files.length).toBeGreaterThan(50);
    expect(files.flatMap((file) => importFaults(file, imports(file)))).toEqual([]);
  });

  it("notices an upward, a sibling, a host and a sideways import", () => {
    expect(importFaults("engine/units/x.ts", ["#engine/shells"])).toHaveLength(1);
    expect(importFaults("engine/shells/x.ts", ["#engine/air"])).toHaveLength(1);
    expect(importFaults("engine/shells/x.ts", ["#host/cli"])).toHaveLength(1);
    expect(importFaults("engine/shells/x.ts", ["../meshing/plan.ts"])).toHaveLength(1);
    expect(importFaults("engine/shells/x.ts", ["#engine/meshing", "./element.ts"])).toEqual([]);
  });
});
