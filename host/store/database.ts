import { closeSync, existsSync, openSync, readSync, statSync } from "node:fs";
import Database from "better-sqlite3";
import type { Migration } from "./migrations/migration.ts";

/** Name of the database in the store's folder. */
export const databaseName = "fairbout.sqlite";

/** "FBOT": tells a Fairbout store from any other SQLite file. */
const applicationId = 0x46424f54;

/** What must hold on every connection that writes, as SQLite reads it back (sqlite.org/pragma.html, from memory). */
const pragmas: readonly (readonly [name: string, set: string, read: string | number])[] = [
  ["journal_mode", "WAL", "wal"],
  ["synchronous", "FULL", 2],
  ["foreign_keys", "ON", 1],
  ["busy_timeout", "5000", 5000],
  ["wal_autocheckpoint", "1000", 1000],
  // on macOS a plain fsync leaves the data in the drive's cache
  ["fullfsync", "ON", 1],
  ["checkpoint_fullfsync", "ON", 1],
];

export type OpenedDatabase =
  | { readonly ok: true; readonly database: Database.Database }
  | { readonly ok: false; readonly message: string };

/**
 * Opens the store's database, made if there is none, and brings it to the newest version. A file that is foreign, broken or
 * newer than this program is left exactly as it is, and told in words. `beforeMigrating` runs before an older one is changed.
 */
export function openDatabase(
  path: string,
  migrations: readonly Migration[],
  beforeMigrating: (database: Database.Database, version: number) => void,
): OpenedDatabase {
  const foreign = headerFault(path);
  if (foreign !== null) return { ok: false, message: foreign };
  let database: Database.Database;
  try {
    database = new Database(path, { timeout: 5000 });
  } catch (error) {
    return { ok: false, message: `${path} could not be opened (${codeOf(error)}).` };
  }
  const refuse = (message: string): OpenedDatabase => {
    database.close();
    return { ok: false, message };
  };
  try {
    const fault = contentFault(database, path, migrations.length);
    if (fault !== null) return refuse(fault);
    for (const [name, value] of pragmas) database.pragma(`${name} = ${value}`);
    for (const [name, value, read] of pragmas) {
      const found: unknown = database.pragma(name, { simple: true });
      if (found !== read) return refuse(`SQLite does not keep ${name} = ${value} here (it says ${found}).`);
    }
    migrate(database, migrations, beforeMigrating);
    return { ok: true, database };
  } catch (error) {
    return refuse(`${path} could not be opened (${codeOf(error)}).`);
  }
}

/** Looks at the file itself before SQLite does: opening a foreign one would already write beside it. */
function headerFault(path: string): string | null {
  if (!existsSync(path) || statSync(path).size === 0) return null;
  if (!statSync(path).isFile()) return `${path} is not a file.`;
  const start = Buffer.alloc(72);
  const file = openSync(path, "r");
  try {
    readSync(file, start, 0, start.length, 0);
  } finally {
    closeSync(file);
  }
  // database file format, section 1.3: the header string, and the application id at offset 68
  if (start.toString("latin1", 0, 16) !== "SQLite format 3\0")
    return `${path} is not a Fairbout store: it does not begin as an SQLite file does.`;
  const id = start.readUInt32BE(68);
  // a store that was killed while it was being made has its first page, and no id yet
  return id === applicationId || id === 0 ? null : `${path} is a database of another program.`;
}

/** What is wrong with an opened database, in words, or null. */
function contentFault(database: Database.Database, path: string, known: number): string | null {
  const check = database.pragma("quick_check(1)", { simple: true });
  if (check !== "ok") return `${path} is broken (${check}).`;
  const id = database.pragma("application_id", { simple: true });
  const tables = database.prepare<[], { n: number }>("select count(*) as n from sqlite_schema").get();
  if (id !== applicationId) return tables?.n === 0 ? null : `${path} is a database of another program.`;
  const version = Number(database.pragma("user_version", { simple: true }));
  if (version > known)
    return `${path} was written by a newer Fairbout (store version ${version}; this one knows ${known}): use that one.`;
  return null;
}

function migrate(
  database: Database.Database,
  migrations: readonly Migration[],
  beforeMigrating: (database: Database.Database, version: number) => void,
): void {
  const version = Number(database.pragma("user_version", { simple: true }));
  if (version === migrations.length) return;
  if (version > 0) beforeMigrating(database, version);
  for (const migration of migrations.slice(version)) {
    database
      .transaction(() => {
        database.exec(migration.sql);
        database.pragma(`application_id = ${applicationId}`);
        database.pragma(`user_version = ${migration.version}`);
      })
      .exclusive();
  }
}

const codeOf = (error: unknown): string => {
  const { code, message } = error as { code?: string; message?: string };
  return code ?? message ?? String(error);
};
