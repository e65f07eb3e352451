import type { Database } from "better-sqlite3";
import type { Keepsake, NewKeepsake } from "#host/api";
import type { Asked } from "./changes.ts";
import { type Kept, kept, troubled } from "./kept.ts";
import { revisionNumbered } from "./revisions.ts";
import { write } from "./write.ts";

/** Gives a revision a name; sent again with the same id it is the same keepsake. */
export function keepRevision(
  database: Database,
  asked: Asked,
  instrument: string,
  what: NewKeepsake,
): Kept<Keepsake> {
  return write(database, () => {
    const before = database
      .prepare<[string, string], Keepsake>(
        "select id, name, revision, at from keepsakes where instrument = ? and id = ?",
      )
      .get(instrument, what.id);
    if (before !== undefined) {
      return before.name === what.name && before.revision === what.revision
        ? kept(before)
        : troubled(
            "id-used",
            `The id ${what.id} was used before for another keepsake: this one was not saved.`,
          );
    }
    if (revisionNumbered(database, instrument, what.revision) === undefined)
      return troubled("absent", `There is no revision ${what.revision} of instrument ${instrument}.`);
    database
      .prepare("insert into keepsakes (instrument, id, name, revision, at, page) values (?, ?, ?, ?, ?, ?)")
      .run(instrument, what.id, what.name, what.revision, asked.at, asked.page);
    return kept({ id: what.id, name: what.name, revision: what.revision, at: asked.at });
  });
}
