/**
 * Installs the locked packages when they are missing or stale; needs nothing but Node itself.
 * Everything it says goes to standard error, so that a verb's result stays alone on standard output.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = dirname(dirname(fileURLToPath(import.meta.url)));

export function prepare() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    process.stderr.write(`Fairbout needs Node 20.19 or newer; this is ${process.versions.node}.\n`);
    process.exit(2);
  }
  const stamp = join(root, "node_modules", ".fairbout-lock");
  const lock = createHash("sha256")
    .update(readFileSync(join(root, "package-lock.json")))
    .digest("hex");
  if (existsSync(stamp) && readFileSync(stamp, "utf8") === lock) return;
  process.stderr.write("Installing the locked packages (first run only) ...\n");
  const done = spawnSync("npm", ["ci", "--no-audit", "--no-fund"], {
    cwd: root,
    stdio: ["ignore", 2, 2],
    shell: process.platform === "win32",
  });
  if (done.status !== 0) {
    process.stderr.write("The packages could not be installed: see npm's message above.\n");
    process.exit(2);
  }
  mkdirSync(dirname(stamp), { recursive: true });
  writeFileSync(stamp, lock);
}
