/**
 * The type checks in which unchecked indexing is refused: where makers' data is read, and in the page. Array kernels, which
 * the compiler follows from there, keep `faults` functions instead, so their lines are passed over.
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { root } from "./prepare.mjs";

const projects = [
  ["tsconfig.checked.json", /^(engine.instrument|host).*error/],
  ["tsconfig.app.json", /^host.app.*error/],
];

/** Complaints of the compiler, one a line; empty: none. */
export function carelessLines() {
  return projects.flatMap(([project, ours]) => {
    const checked = spawnSync(
      join(root, "node_modules", ".bin", "tsc"),
      ["-p", project, "--pretty", "false"],
      {
        cwd: root,
        encoding: "utf8",
        shell: process.platform === "win32",
      },
    );
    if (checked.status === null) return [`${project} was not checked: ${checked.error?.message ?? "killed"}`];
    return checked.stdout.split("\n").filter((line) => ours.test(line));
  });
}

if (process.argv[1]?.endsWith("careful.mjs")) {
  const lines = carelessLines();
  process.stdout.write(lines.map((line) => `${line}\n`).join(""));
  process.exitCode = lines.length > 0 ? 1 : 0;
}
