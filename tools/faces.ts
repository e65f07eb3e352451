/** Writes docs/faces.txt: what each module shows to the others, so that a review sees an interface move. */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const root = join(import.meta.dirname, "..");

/** One line a module: its exported names in order; types are marked. */
export function facesText(): string {
  const modules = readdirSync(join(root, "engine")).sort();
  return `${modules.map((module) => `#engine/${module}\n${face(module)}`).join("\n")}`;
}

function face(module: string): string {
  const text = readFileSync(join(root, "engine", module, "index.ts"), "utf8");
  const names: string[] = [];
  for (const [, onlyTypes, list] of text.matchAll(/export (type )?\{([^}]*)\}/g)) {
    for (const name of list!.split(",").map((word) => word.trim())) {
      if (name === "") continue;
      names.push(onlyTypes === undefined ? name : `type ${name}`);
    }
  }
  for (const [, from] of text.matchAll(/export type \* from "([^"]+)"/g)) names.push(`types of ${from}`);
  return `${names
    .sort()
    .map((name) => `  ${name}`)
    .join("\n")}\n`;
}

if (process.argv[1]?.endsWith("run.mjs") && process.argv.includes("--write")) {
  writeFileSync(join(root, "docs", "faces.txt"), facesText());
}
