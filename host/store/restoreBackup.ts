import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
} from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { backupFolder, backups } from "./backups.ts";
import { databaseName, openDatabase } from "./database.ts";
import { syncFolder } from "./durableFile.ts";
import { type Kept, kept, troubled } from "./kept.ts";
import { lockFolder } from "./lock.ts";
import { migrations } from "./migrations/migrations.ts";
import { diskTrouble } from "./write.ts";

/**
 * Puts a backup in the place of the store's database, which is kept in a folder beside it, whole or broken as it is. Answers
 * with that folder. The server must not be running on the folder.
 */
export function restoreBackup(folder: string, name: string, at: Date): Kept<{ readonly replaced: string }> {
  if (!backups(folder).some((backup) => backup.name === name))
    return troubled("absent", `There is no backup ${name} in ${backupFolder(folder)}.`);
  try {
    const locked = lockFolder(folder);
    if (!locked.ok) return troubled("disk", "Fairbout runs on this folder: end it first.");
    try {
      return replace(folder, name, at);
    } finally {
      locked.lock.release();
    }
  } catch (error) {
    return diskTrouble(error);
  }
}

function replace(folder: string, name: string, at: Date): Kept<{ readonly replaced: string }> {
  const path = join(folder, databaseName);
  const part = `${path}.part`;
  rmSync(part, { force: true });
  copyFileSync(join(backupFolder(folder), name), part);
  const copy = new Database(part);
  const check = copy.pragma("integrity_check", { simple: true });
  copy.close();
  if (check !== "ok") {
    rmSync(part, { force: true });
    return troubled("disk", `The backup ${name} is broken (${check}): nothing was changed.`);
  }
  sync(part);
  settle(path);
  const replaced = join(folder, `replaced-${at.toISOString().replaceAll(":", "-")}`);
  mkdirSync(replaced);
  for (const end of ["", "-wal", "-shm"]) {
    if (!existsSync(`${path}${end}`)) continue;
    copyFileSync(`${path}${end}`, join(replaced, `${databaseName}${end}`));
    sync(join(replaced, `${databaseName}${end}`));
  }
  syncFolder(replaced);
  syncFolder(folder);
  // the log of the one must not be taken for the other's
  for (const end of ["-wal", "-shm"]) rmSync(`${path}${end}`, { force: true });
  syncFolder(folder);
  renameSync(part, path);
  syncFolder(folder);
  return kept({ replaced });
}

/** Lets a store that is whole fold its log into itself; one that cannot be opened stays as it is. */
function settle(path: string): void {
  if (!existsSync(path)) return;
  const opened = openDatabase(path, migrations, () => {});
  if (opened.ok) opened.database.close();
}

function sync(path: string): void {
  const handle = openSync(path, "r+");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
