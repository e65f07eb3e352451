import { spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it, onTestFinished } from "vitest";
import { pageHeader } from "#host/api";

const root = join(import.meta.dirname, "..", "..");

function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "fairbout-serve-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

const verb = (...words: readonly string[]) =>
  spawnSync(process.execPath, ["tools/fairbout.mjs", ...words], { cwd: root, encoding: "utf8" });

it("serves until it is told to end, ends cleanly, and a backup it made can be put back", async () => {
  const folder = scratchFolder();
  const server = spawn(process.execPath, ["tools/fairbout.mjs", "serve", "--folder", folder], {
    cwd: root,
    stdio: ["ignore", "pipe", "inherit"],
  });
  const ended = new Promise<number | null>((settle) => {
    server.on("exit", (code) => settle(code));
  });
  let said = "";
  for await (const part of server.stdout) {
    said += part;
    if (said.includes("Ctrl+C")) break;
  }
  const address = /http:\/\/127\.0\.0\.1:\d+\//.exec(said)?.[0] ?? "";
  expect((await fetch(`${address}api/bench`)).status).toBe(200);
  const second = verb("serve", "--folder", folder);
  expect([second.status, second.stderr]).toEqual([2, expect.stringContaining(address)]);
  const backup = await fetch(`${address}api/backups`, { method: "POST", headers: { [pageHeader]: "p" } });
  const { name } = (await backup.json()) as { name: string };
  server.kill("SIGTERM");
  expect(await ended).toBe(0);
  // closed, not killed: the log is folded in and the word of the address is gone
  expect(existsSync(join(folder, "fairbout.sqlite-wal"))).toBe(false);
  expect(existsSync(join(folder, "address.txt"))).toBe(false);

  expect(verb("restore", "--folder", folder).stdout).toContain(name);
  const restored = verb("restore", name, "--folder", folder);
  expect([restored.status, restored.stdout]).toEqual([
    0,
    expect.stringContaining("What was there before lies in"),
  ]);
  expect(readdirSync(folder).some((one) => one.startsWith("replaced-"))).toBe(true);
  const none = verb("restore", "fairbout-of-yesterday.sqlite", "--folder", folder);
  expect([none.status, none.stderr]).toEqual([2, expect.stringContaining("There is no backup")]);
}, 300_000);

it("refuses a port that is none, and a folder that holds something else", () => {
  const port = verb("serve", "--port", "80", "--folder", scratchFolder());
  expect([port.status, port.stderr]).toEqual([2, expect.stringContaining("from 1024 to 65535")]);
  const file = verb("serve", "--folder", join(root, "package.json"));
  expect([file.status, file.stderr]).toEqual([2, expect.stringContaining("cannot be used as the folder")]);
});
