/**
 * The README's second command: every check there is, in one go. Type check, lint and formatting, unused code, then
 * unit tests (the import order and the committed faces among them) and the sourced proofs.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { carelessLines } from "./careful.mjs";
import { buildPage } from "./page.mjs";
import { prepare, root } from "./prepare.mjs";

prepare();
await buildPage();
const bin = (name) => join(root, "node_modules", ".bin", name);
const report = join(root, ".out", "tests.json");
mkdirSync(join(root, ".out"), { recursive: true });
rmSync(report, { force: true });

const steps = [
  ["type check", "tsc", ["-p", "tsconfig.json"]],
  ["lint and formatting", "biome", ["check", "--error-on-warnings", "."]],
  ["unused code", "knip", []],
  [
    "tests and proofs",
    "vitest",
    ["run", "--reporter=default", "--reporter=json", `--outputFile.json=${report}`],
  ],
];
const failed = [];
for (const [title, name, args] of steps) {
  process.stdout.write(`\n== ${title}\n`);
  const done = spawnSync(bin(name), args, {
    cwd: root,
    stdio: "inherit",
    shell: process.platform === "win32",
  });
  if (done.status !== 0) failed.push(title);
}
process.stdout.write("\n== type check with unchecked indexing refused: engine/instrument, host, the page\n");
const careless = carelessLines();
process.stdout.write(careless.map((line) => `${line}\n`).join(""));
if (careless.length > 0) failed.push("unchecked indexing");

const tests = existsSync(report)
  ? JSON.parse(readFileSync(report, "utf8"))
  : { numPassedTests: 0, numFailedTests: 0 };
if (failed.length > 0) process.stdout.write(`\nfailed: ${failed.join(", ")}\n`);
process.stdout.write(`\n${tests.numPassedTests} passed, ${tests.numFailedTests} failed\n`);
process.exit(failed.length > 0 || tests.numPassedTests === 0 ? 1 : 0);
