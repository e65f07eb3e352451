/** Builds the page into .out/app unless it was built from these very sources. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "./prepare.mjs";
import { sourceKey } from "./sourceKey.mjs";

const mark = join(root, ".out", "app", "built-from");

export async function buildPage() {
  const key = sourceKey(["engine", "host", "kernels"], /\.(tsx?|json|css|html|svg|js)$/);
  if (existsSync(mark) && readFileSync(mark, "utf8") === key) return;
  process.stderr.write("Building the page ...\n");
  const { build } = await import("vite");
  await build({ configFile: join(root, "vite.config.ts"), logLevel: "error" });
  mkdirSync(join(root, ".out", "app"), { recursive: true });
  writeFileSync(mark, key);
}
