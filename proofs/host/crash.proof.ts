/**
 * The server is killed (SIGKILL) at random moments in the middle of bursts of edits. A kill does not test the loss of power: what
 * the operating system had taken is there afterwards; that it was also on the disk rests on SQLite's synchronous = FULL.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { copyFileSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import { expect, it } from "vitest";
import { seededRandom } from "#engine/numerics";
import type { InstrumentState } from "#host/api";
import { bundledServer } from "./crashBundle.fixture.ts";
import { makeOutbox, type Outbox, sha256 } from "./outbox.fixture.ts";

const seed = Number(process.env["FAIRBOUT_CRASH_SEED"] ?? 5);
const kills = Number(process.env["FAIRBOUT_CRASHES"] ?? 102);
/** Servers in the process that is killed, each with a folder and a page of its own: so many bursts are cut off by one kill. */
const servers = 3;

/** Starts the servers and gives their addresses. */
async function started(file: string, folders: readonly string[]) {
  const process_ = spawn(process.execPath, [file, ...folders], { stdio: ["ignore", "pipe", "inherit"] });
  const addresses: string[] = [];
  let said = "";
  for await (const part of process_.stdout) {
    said += part;
    addresses.push(...said.split("\n").slice(0, -1));
    said = said.slice(said.lastIndexOf("\n") + 1);
    if (addresses.length === folders.length) return { process: process_, addresses };
  }
  throw new Error("the server did not start");
}

const killed = (server: ChildProcess) =>
  new Promise<void>((resolve) => {
    if (server.signalCode !== null) return resolve();
    server.once("exit", () => resolve());
    server.kill("SIGKILL");
  });

interface Row {
  readonly number: number;
  readonly kind: string;
  readonly cause: string;
  readonly text: string;
}

/** What a killed server left, looked at in a copy, so that the next server has to recover it by itself. */
function faultsLeft(folder: string, page: Outbox): string[] {
  const scratch = mkdtempSync(join(tmpdir(), "fairbout-crash-look-"));
  try {
    for (const name of ["fairbout.sqlite", "fairbout.sqlite-wal"]) {
      if (existsSync(join(folder, name))) copyFileSync(join(folder, name), join(scratch, name));
    }
    const database = new Database(join(scratch, "fairbout.sqlite"));
    const faults: string[] = [];
    if (database.pragma("integrity_check", { simple: true }) !== "ok") faults.push("integrity");
    if ((database.pragma("foreign_key_check") as unknown[]).length > 0) faults.push("foreign keys");
    const rows = database
      .prepare<[string], Row>(
        "select number, kind, cause, text from revisions where instrument = ? order by number",
      )
      .all(page.instrument);
    const shown = (row: Row) => JSON.stringify([row.number, row.kind, row.cause, row.text]);
    for (const [i, row] of page.log.entries()) {
      const found = rows[i];
      if (found === undefined || shown(found) !== shown(row)) faults.push(`lost ${shown(row)}`);
    }
    // what was not answered may be there or not, but no more than that
    if (rows.length > page.log.length + (page.unanswered ? 1 : 0)) faults.push("more than was sent");
    const attached = database
      .prepare<[string], { sha256: string }>("select sha256 from attachments where instrument = ?")
      .all(page.instrument)
      .map((row) => row.sha256);
    for (const one of page.attached) {
      const path = join(folder, "attachments", one.slice(0, 2), one);
      if (!attached.includes(one) || !existsSync(path) || sha256(readFileSync(path)) !== one)
        faults.push(`lost the attachment ${one}`);
    }
    database.close();
    return faults;
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

const numbered = (n: number) => `${String(n).padStart(8, "0")}-0000-4000-8000-000000000000`;

it(`keeps everything it acknowledged through ${kills} kills in ${kills * servers} bursts of edits (seed ${seed})`, async () => {
  const random = seededRandom(seed);
  const bundle = await bundledServer();
  const root = mkdtempSync(join(tmpdir(), "fairbout-crash-"));
  const folders = Array.from({ length: servers }, (_, i) => join(root, String(i)));
  const pages = folders.map((_, i) => makeOutbox(numbered(i + 1), random));
  const faults: string[] = [];
  let cutOff = 0;
  try {
    for (let kill = 0; kill < kills && faults.length === 0; kill++) {
      const { process: server, addresses } = await started(bundle.file, folders);
      let toCome = servers + Math.floor(random() * 12);
      const after = random() * 8;
      let dying: Promise<void> | null = null;
      const burst = async (page: Outbox, address: string) => {
        try {
          if (kill > 0) {
            const about = await fetch(`${address}api/instruments/${page.instrument}`);
            const { revision, text, undo, redo } = (await about.json()) as InstrumentState;
            // with nothing under way the page and the server must agree to the letter
            if (!page.unanswered) expect({ revision, text, undo, redo }).toEqual(page.expected());
          }
          while (true) {
            const fault = await page.send(address);
            if (fault !== null) faults.push(fault);
            toCome -= 1;
            if (toCome <= 0)
              dying ??= new Promise((resolve) => {
                setTimeout(() => resolve(killed(server)), after);
              });
          }
        } catch (error) {
          // a server that was killed hangs up in the middle of a word
          if (dying === null || (error as Error).name === "AssertionError") throw error;
        }
      };
      try {
        await Promise.all(pages.map((page, i) => burst(page, addresses[i] ?? "")));
      } finally {
        await killed(server);
      }
      for (const [i, page] of pages.entries()) {
        if (page.unanswered) cutOff += 1;
        faults.push(...faultsLeft(folders[i] ?? "", page).map((fault) => `kill ${kill}: ${fault}`));
      }
    }
    expect(faults).toEqual([]);
    // most bursts were cut off in the middle of a request, and every page had a history to lose
    expect(cutOff).toBeGreaterThan(kills);
    for (const page of pages) expect(page.log.length).toBeGreaterThan(kills);

    // the last server finds nothing half-written, and the whole way back is still there
    const { process: server, addresses } = await started(bundle.file, folders);
    for (const [i, page] of pages.entries()) {
      if (page.unanswered) expect(await page.send(addresses[i] ?? "")).toBeNull();
      const about = await fetch(`${addresses[i]}api/instruments/${page.instrument}`);
      expect(await about.json()).toMatchObject(page.expected());
    }
    await killed(server);
    const halves = readdirSync(root, { recursive: true, encoding: "utf8" }).filter(
      (name) => name.includes("attachments/") && name.endsWith(".part"),
    );
    expect(halves).toEqual([]);
  } finally {
    rmSync(root, { recursive: true, force: true, maxRetries: 5 });
    bundle.remove();
  }
}, 1_200_000);
