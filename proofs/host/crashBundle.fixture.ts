/** The server that is killed, bundled: hundreds of starts from loose sources would take their time for reading modules. */
import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = join(import.meta.dirname, "..", "..");

/** Two folders below the checkout, as host/server is, so that what it finds relative to itself is found from there too. */
export async function bundledServer(): Promise<{ readonly file: string; readonly remove: () => void }> {
  const folder = mkdtempSync(join(root, ".out", "crash-"));
  await build({
    absWorkingDir: root,
    entryPoints: { server: fileURLToPath(new URL("./crashServer.fixture.ts", import.meta.url)) },
    outdir: folder,
    bundle: true,
    minify: true,
    format: "esm",
    platform: "node",
    target: "node20",
    outExtension: { ".js": ".mjs" },
    external: ["better-sqlite3"],
    banner: {
      js: 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);',
    },
    logLevel: "error",
  });
  return {
    file: join(folder, "server.mjs"),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
