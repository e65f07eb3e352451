/**
 * Starts the command line from a bundle of its sources, made anew whenever one of them has changed: a few hundred modules
 * one by one take more than a second to load, which is too long to wait for a refusal. The bundle lies two folders below the
 * checkout, as host/cli does, so that what the sources find relative to themselves is found from there too.
 */
import { existsSync, mkdirSync, readdirSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { prepare, root } from "./prepare.mjs";
import { sourceKey } from "./sourceKey.mjs";

const home = join(root, ".out");

async function bundle() {
  const ready = join(home, `bundle-${sourceKey(["engine", "host", "kernels"], /\.(ts|json)$/)}`);
  if (existsSync(ready)) return ready;
  const { build } = await import("esbuild");
  const made = `${ready}.${process.pid}`;
  await build({
    entryPoints: {
      main: join(root, "host", "cli", "main.ts"),
      worker: join(root, "host", "jobs", "worker.ts"),
    },
    outdir: made,
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "node",
    target: "node20",
    // finds its compiled half beside itself
    external: ["better-sqlite3"],
    outExtension: { ".js": ".mjs" },
    banner: {
      js: 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);',
    },
    sourcemap: "linked",
    logLevel: "error",
  });
  for (const old of readdirSync(home)) {
    if (/^bundle-[0-9a-f]{16}$/.test(old)) rmSync(join(home, old), { recursive: true, force: true });
  }
  try {
    renameSync(made, ready);
  } catch {
    // another process was first with the same bundle
    rmSync(made, { recursive: true, force: true });
  }
  return ready;
}

/** Runs the words in process.argv. */
export async function commandLine() {
  prepare();
  mkdirSync(home, { recursive: true });
  await import(pathToFileURL(join(await bundle(), "main.mjs")).href);
}
