/** Runs one TypeScript file of this checkout in this process: node tools/run.mjs FILE.ts [arguments]. */

import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { prepare, root } from "./prepare.mjs";

export async function run(file) {
  prepare();
  const { register } = await import("tsx/esm/api");
  register();
  await import(pathToFileURL(join(root, file)).href);
}

if (process.argv[1]?.endsWith("run.mjs")) {
  const [file] = process.argv.splice(2, 1);
  if (file === undefined) {
    process.stderr.write("usage: node tools/run.mjs FILE.ts [arguments]\n");
    process.exit(2);
  }
  await run(file);
}
