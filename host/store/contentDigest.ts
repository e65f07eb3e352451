import { createHash } from "node:crypto";
import type { Database } from "better-sqlite3";

/** SHA-256 over every row of every table, in the order of their keys: equal digests, equal content. */
export function contentDigest(database: Database): string {
  const hash = createHash("sha256");
  const tables = database
    .prepare<[], { name: string; sql: string }>(
      "select name, sql from sqlite_schema where type = 'table' and name not like 'sqlite_%' order by name",
    )
    .all();
  for (const { name, sql } of tables) {
    hash.update(`${JSON.stringify([name, sql])}\n`);
    const columns = database
      .prepare<[string], { name: string }>("select name from pragma_table_info(?) order by cid")
      .all(name)
      .map((column) => `"${column.name}"`);
    const rows = database.prepare<[], unknown[]>(
      `select ${columns.join(", ")} from "${name}" order by ${columns.slice(0, 2).join(", ")}, rowid`,
    );
    for (const row of rows.raw().iterate()) {
      const cells = (row as unknown[]).map((cell) =>
        Buffer.isBuffer(cell) ? createHash("sha256").update(cell).digest("hex") : cell,
      );
      hash.update(`${JSON.stringify(cells)}\n`);
    }
  }
  return hash.digest("hex");
}
