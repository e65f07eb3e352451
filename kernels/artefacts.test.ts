import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

describe("the compiled kernels in the repository", () => {
  it("are what their sources compile to (npm run kernels writes them afresh)", () => {
    const build = fileURLToPath(new URL("build.mjs", import.meta.url));
    const run = spawnSync(process.execPath, [build, "--check"], { encoding: "utf8" });
    expect(run.stdout + run.stderr).toBe("");
    expect(run.status).toBe(0);
  });
});
