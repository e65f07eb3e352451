/** Builds the page into .out/app unless it was built from these very sources. */
import { existsSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { compressPage } from "./compressPage.mjs";
import { root } from "./prepare.mjs";
import { sourceKey } from "./sourceKey.mjs";

const place = join(root, ".out", "app");
const mark = "built-from";

export async function buildPage() {
  const key = sourceKey(["engine", "host", "kernels"], /\.(tsx?|json|css|html|svg|js)$/, ["vite.config.ts"]);
  const isBuilt = () => existsSync(join(place, mark)) && readFileSync(join(place, mark), "utf8") === key;
  if (isBuilt()) return;
  process.stderr.write("Building the page ...\n");
  const { build } = await import("vite");
  // beside, and put in place whole: two that build at once do not mix their files
  const made = `${place}.${process.pid}`;
  const { NODE_ENV } = process.env;
  // a test's own setting would have React's development version built in
  process.env.NODE_ENV = "production";
  await build({ configFile: join(root, "vite.config.ts"), logLevel: "error", build: { outDir: made } });
  if (NODE_ENV === undefined) delete process.env.NODE_ENV;
  else process.env.NODE_ENV = NODE_ENV;
  compressPage(made);
  writeFileSync(join(made, mark), key);
  if (isBuilt()) return rmSync(made, { recursive: true });
  rmSync(place, { recursive: true, force: true });
  renameSync(made, place);
}
