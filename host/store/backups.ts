import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
} from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import type { Backup } from "#host/api";
import { attachmentPath } from "./attachments.ts";
import { contentDigest } from "./contentDigest.ts";
import { syncFolder } from "./durableFile.ts";
import { type Kept, kept, troubled } from "./kept.ts";
import { diskTrouble } from "./write.ts";

export const backupFolder = (folder: string): string => join(folder, "backups");

const backupName = (at: Date): string => `fairbout-${at.toISOString().replaceAll(":", "-")}.sqlite`;
const namePattern = /^fairbout-(\d{4}-\d\d-\d\dT)(\d\d)-(\d\d)-(\d\d\.\d{3}Z)\.sqlite$/;

/** The backups there are, newest first. A file bears a backup's name only once it has been restored and compared. */
export function backups(folder: string): Backup[] {
  const place = backupFolder(folder);
  if (!existsSync(place)) return [];
  return readdirSync(place)
    .flatMap((name): Backup[] => {
      const parts = namePattern.exec(name);
      if (parts === null) return [];
      const at = `${parts[1]}${parts[2]}:${parts[3]}:${parts[4]}`;
      return [{ name, at, bytes: statSync(join(place, name)).size, tested: true }];
    })
    .sort((a, b) => (a.at < b.at ? 1 : -1));
}

/**
 * Copies the database by SQLite's online backup (sqlite.org/backup.html, from memory) while edits go on, out of one snapshot;
 * then opens the copy, has SQLite check it, and compares all it holds with that snapshot. Only then does it get its name.
 */
export async function makeBackup(databasePath: string, folder: string, at: Date): Promise<Kept<Backup>> {
  const place = backupFolder(folder);
  const name = backupName(at);
  const part = join(place, `${name}.part`);
  let source: Database.Database | null = null;
  try {
    mkdirSync(place, { recursive: true });
    source = new Database(databasePath, { readonly: true });
    source.exec("begin");
    // the snapshot begins with the first read, and the copy is made from it
    source.prepare("select 1 from sqlite_schema").get();
    await source.backup(part, { progress: () => 500 });
    const fault = await copyFault(part, source, folder);
    if (fault !== null) return troubled("disk", `The backup ${fault}; it does not count.`);
    const handle = openSync(part, "r+");
    fsyncSync(handle);
    closeSync(handle);
    renameSync(part, join(place, name));
    syncFolder(place);
    return kept({ name, at: at.toISOString(), bytes: statSync(join(place, name)).size, tested: true });
  } catch (error) {
    return diskTrouble(error);
  } finally {
    source?.close();
    for (const rest of [part, `${part}-journal`]) if (existsSync(rest)) rmSync(rest);
  }
}

/** What differs between a copy and its source, in words, or null. */
async function copyFault(path: string, source: Database.Database, folder: string): Promise<string | null> {
  const copy = new Database(path);
  try {
    // one file, to be carried away as it is
    copy.pragma("journal_mode = DELETE");
    if (copy.pragma("integrity_check", { simple: true }) !== "ok") return "is broken";
    if ((copy.pragma("foreign_key_check") as unknown[]).length > 0) return "has loose ends";
    if ((await contentDigest(copy)) !== (await contentDigest(source))) return "is not equal to its source";
    const bytes = copy
      .prepare<[], { sha256: string; bytes: number }>("select sha256, bytes from attachments")
      .all();
    const gone = bytes.filter((one) => {
      const path = attachmentPath(folder, one.sha256);
      return !existsSync(path) || statSync(path).size !== one.bytes;
    });
    return gone.length === 0 ? null : `misses the bytes of ${gone.length} attachments`;
  } finally {
    copy.close();
  }
}

const day = 86_400_000;
const recent = 10;
const days = 14;
const weeks = 26;

/** Which backups have had their time: the newest ten stay, the last of each of 14 days and of each of 26 weeks before. */
export function outdated(all: readonly Backup[], now: Date): string[] {
  const stay = new Set(all.slice(0, recent).map(({ name }) => name));
  const lastOf = (span: number, count: number) => {
    const seen = new Set<number>();
    for (const { name, at } of all) {
      // newest first: the first one met in a span is its last; days and weeks are counted from the same midnight, UTC
      const which = Math.floor(Date.parse(at) / span);
      if (Math.floor(now.getTime() / span) - which >= count || seen.has(which)) continue;
      seen.add(which);
      stay.add(name);
    }
  };
  lastOf(day, days);
  lastOf(7 * day, weeks);
  return all.map(({ name }) => name).filter((name) => !stay.has(name));
}

export function removeOutdated(folder: string, now: Date): void {
  for (const name of outdated(backups(folder), now))
    rmSync(join(backupFolder(folder), name), { force: true });
}
