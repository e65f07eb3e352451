import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { expect, it } from "vitest";

const root = join(import.meta.dirname, "..", "..");

it.each([500, 4000])("Ctrl-C after %i ms leaves no half-written file", async (time) => {
  const folder = mkdtempSync(join(tmpdir(), "fairbout-"));
  const out = join(folder, "out");
  const run = spawn(
    process.execPath,
    ["tools/fairbout.mjs", "voice", "examples/cross-braced.fairbout.json", "--out", out],
    { cwd: root, stdio: "ignore" },
  );
  const ended = new Promise<{ code: number | null; signal: string | null }>((settle) => {
    run.on("exit", (code, signal) => settle({ code, signal }));
  });
  await Promise.race([wait(time), ended]);
  run.kill("SIGINT");
  const { code, signal } = await ended;
  const files = existsSync(out) ? readdirSync(out).sort() : [];
  // a fast machine may have been done by then
  if (code === null) {
    expect(signal).toBe("SIGINT");
    expect(files).toEqual([]);
  } else expect(files).toEqual(["report.html", "voice.json"]);
  rmSync(folder, { recursive: true });
});
