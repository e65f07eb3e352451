import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";

/** One process has a folder: the lock is the operating system's, and goes with the process however that ends. */
export interface FolderLock {
  /** Leaves word where the server answers, for a second start. */
  tell(address: string): void;
  release(): void;
}

export type Locked =
  | { readonly ok: true; readonly lock: FolderLock }
  | { readonly ok: false; readonly address: string | null };

const addressFile = (folder: string): string => join(folder, "address.txt");

/** Takes the folder, or says where the process that has it answers. */
export function lockFolder(folder: string): Locked {
  // an open transaction on a database of its own: SQLite's file locks work alike on every system
  const database = new Database(join(folder, "lock.sqlite"), { timeout: 0 });
  try {
    database.exec("begin exclusive");
  } catch (error) {
    database.close();
    if ((error as { code?: string }).code?.startsWith("SQLITE_BUSY"))
      return { ok: false, address: told(folder) };
    throw error;
  }
  return {
    ok: true,
    lock: {
      tell: (address) => {
        writeFileSync(addressFile(folder), `${address}\n`);
      },
      release: () => {
        rmSync(addressFile(folder), { force: true });
        database.close();
      },
    },
  };
}

function told(folder: string): string | null {
  try {
    return readFileSync(addressFile(folder), "utf8").trim();
  } catch {
    return null;
  }
}
