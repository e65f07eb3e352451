import { createHash } from "node:crypto";
import type { Database } from "better-sqlite3";

/** Rows between two pauses: what a digest of a large store holds up is a few milliseconds. */
const rowsAtOnce = 200;

/**
 * SHA-256 over every row of every table, in the order of their keys: equal digests, equal content. Between its slices other work
 * goes on, so the connection should hold a snapshot of its own.
 */
export async function contentDigest(database: Database): Promise<string> {
  const hash = createHash("sha256");
  let rows = 0;
  for (const { name, sql } of tables(database)) {
    hash.update(`${JSON.stringify([name, sql])}\n`);
    for (const row of cells(database, name)) {
      hash.update(`${JSON.stringify(row.map(digestible))}\n`);
      rows += 1;
      if (rows % rowsAtOnce === 0) await new Promise((next) => setImmediate(next));
    }
  }
  return hash.digest("hex");
}

const tables = (database: Database) =>
  database
    .prepare<[], { name: string; sql: string }>(
      "select name, sql from sqlite_schema where type = 'table' and name not like 'sqlite_%' order by name",
    )
    .all();

function cells(database: Database, table: string): IterableIterator<unknown[]> {
  const columns = database
    .prepare<[string], { name: string }>("select name from pragma_table_info(?) order by pk, cid")
    .all(table)
    .map(({ name }) => `"${name}"`)
    .join(", ");
  return database
    .prepare<[], unknown[]>(`select ${columns} from "${table}" order by ${columns}`)
    .raw()
    .iterate();
}

const digestible = (cell: unknown): unknown =>
  Buffer.isBuffer(cell) ? createHash("sha256").update(cell).digest("hex") : cell;
