import Database from "better-sqlite3";
import { type Kept, troubled } from "./kept.ts";

const full =
  "The disk is full: this was not saved. Nothing saved before is lost; free some space and do it again.";

/**
 * Runs `work` as one transaction: all of it is on the disk when this returns, or none of it. A disk that is full or fails
 * is told as such; every other fault of the database is one of our own, and thrown.
 */
export function write<T>(database: Database.Database, work: () => Kept<T>): Kept<T> {
  try {
    return database.transaction(work).immediate();
  } catch (error) {
    return diskTrouble(error);
  }
}

/** A fault of the disk, under SQLite or in the file system, in words; anything else is thrown on. */
export function diskTrouble(error: unknown): {
  readonly ok: false;
  readonly trouble: ReturnType<typeof told>;
} {
  const code = (error as { code?: string }).code ?? "";
  if (!(error instanceof Database.SqliteError) && !/^E[A-Z]+$/.test(code)) throw error;
  if (code === "SQLITE_FULL" || code === "ENOSPC" || code === "EDQUOT")
    return { ok: false, trouble: told("disk-full", full) };
  if (!/^(SQLITE_IOERR|SQLITE_READONLY|SQLITE_CANTOPEN|SQLITE_CORRUPT|SQLITE_NOTADB|E[A-Z]+$)/.test(code))
    throw error;
  return {
    ok: false,
    trouble: told(
      "disk",
      `The disk did not take it (${code}): this was not saved. Nothing saved before is lost; look at the disk, and do it again.`,
    ),
  };
}

const told = (code: "disk-full" | "disk", message: string) => troubled(code, message).trouble;
