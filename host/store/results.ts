import { rmSync } from "node:fs";
import Database from "better-sqlite3";
import { limits } from "#host/api";
import { type Kept, kept, troubled } from "./kept.ts";
import { diskTrouble } from "./write.ts";

/**
 * Computed results, kept by the key of their inputs in a database of their own: they can be computed again, so this is the one
 * thing that is ever removed, the least recently used first, and a broken file is begun anew.
 */
export interface ResultStore {
  read(key: string): Buffer | null;
  keep(key: string, bytes: Uint8Array): Kept<null>;
  close(): void;
}

const schema = `
create table if not exists results (key text primary key, bytes blob not null, size integer not null, used integer not null) strict;
create index if not exists results_by_use on results (used);`;

/** Opens the results at `path`, which together take at most `room` bytes. */
export function openResults(path: string, room: number): ResultStore {
  const database = opened(path);
  let used =
    database.prepare<[], { n: number }>("select coalesce(max(used), 0) as n from results").get()?.n ?? 0;
  const touch = database.prepare<[number, string]>("update results set used = ? where key = ?");
  const read = database.prepare<[string], { bytes: Buffer }>("select bytes from results where key = ?");
  const put = database.prepare<[string, Uint8Array, number, number]>(
    "insert into results (key, bytes, size, used) values (?, ?, ?, ?) on conflict (key) do update set bytes = excluded.bytes, size = excluded.size, used = excluded.used",
  );
  const total = database.prepare<[], { n: number }>("select coalesce(sum(size), 0) as n from results");
  const oldest = database.prepare<[], { key: string; size: number }>(
    "select key, size from results order by used limit 1",
  );
  const remove = database.prepare<[string]>("delete from results where key = ?");
  const makeRoom = (bytes: number) => {
    let sum = total.get()?.n ?? 0;
    while (sum + bytes > room) {
      const last = oldest.get();
      if (last === undefined) return;
      remove.run(last.key);
      sum -= last.size;
    }
  };
  return {
    read: (key) => {
      const row = read.get(key);
      if (row === undefined) return null;
      used += 1;
      try {
        touch.run(used, key);
      } catch (error) {
        // a full disk does not keep a result from being read
        diskTrouble(error);
      }
      return row.bytes;
    },
    keep: (key, bytes) => {
      if (bytes.length > Math.min(limits.result, room))
        return troubled("too-large", `A result has at most ${Math.min(limits.result, room) / 1e6} MB.`);
      used += 1;
      try {
        database
          .transaction(() => {
            remove.run(key);
            makeRoom(bytes.length);
            put.run(key, bytes, bytes.length, used);
          })
          .immediate();
        return kept(null);
      } catch (error) {
        return diskTrouble(error);
      }
    },
    close: () => {
      database.close();
    },
  };
}

/** The results at a path; a broken file is begun anew, and where no file can be written they last as long as this process. */
function opened(path: string): Database.Database {
  try {
    return ready(path);
  } catch {
    try {
      for (const end of ["", "-wal", "-shm"]) rmSync(`${path}${end}`, { force: true });
      return ready(path);
    } catch {
      return ready(":memory:");
    }
  }
}

function ready(path: string): Database.Database {
  const database = new Database(path);
  try {
    database.pragma("journal_mode = WAL");
    database.pragma("synchronous = NORMAL");
    if (database.pragma("quick_check(1)", { simple: true }) !== "ok") throw new Error("broken");
    database.exec(schema);
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}
