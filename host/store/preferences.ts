import type { Database } from "better-sqlite3";
import { type Preferences, preferences } from "#host/api";
import { type Kept, kept } from "./kept.ts";
import { write } from "./write.ts";

/** What a bench begins with. */
const first: Preferences = { units: "metric", light: "system" };

export function readPreferences(database: Database): Preferences {
  const rows = database
    .prepare<[], { key: string; value: string }>("select key, value from preferences")
    .all();
  const read = preferences.safeParse({ ...first, ...Object.fromEntries(rows.map((r) => [r.key, r.value])) });
  return read.success ? read.data : first;
}

export function writePreferences(database: Database, what: Preferences): Kept<Preferences> {
  return write(database, () => {
    const put = database.prepare(
      "insert into preferences (key, value) values (?, ?) on conflict (key) do update set value = excluded.value",
    );
    for (const [key, value] of Object.entries(what)) put.run(key, value);
    return kept(what);
  });
}
