import type { Database } from "better-sqlite3";
import type { InstrumentState, RevisionLine, Saved } from "#host/api";

/** A revision as the database holds it. */
export interface Revision {
  readonly instrument: string;
  readonly number: number;
  readonly at: string;
  readonly kind: RevisionLine["kind"];
  readonly cause: string;
  readonly page: string;
  readonly request: string;
  readonly sent: string;
  readonly basis: number;
  /** SHA-256 of its text. */
  readonly text: string;
  /** Number of the revision that first brought this state; null for one set aside. */
  readonly state: number | null;
  /** State which that one was made from; null for the first. */
  readonly parent: number | null;
}

/** A revision that is or was current. */
export type Standing = Revision & { readonly state: number };

/** The revision that counts now: the newest that was not set aside. */
export const currentRevision = (database: Database, instrument: string): Standing | undefined =>
  database
    .prepare<[string], Standing>(
      "select * from revisions where instrument = ? and kind <> 'aside' order by number desc limit 1",
    )
    .get(instrument);

export const revisionNumbered = (
  database: Database,
  instrument: string,
  number: number,
): Revision | undefined =>
  database
    .prepare<[string, number], Revision>("select * from revisions where instrument = ? and number = ?")
    .get(instrument, number);

/** What a request of this id did before, if it came before. */
export const revisionOfRequest = (
  database: Database,
  instrument: string,
  request: string,
): Revision | undefined =>
  database
    .prepare<[string, string], Revision>("select * from revisions where instrument = ? and request = ?")
    .get(instrument, request);

/** The first revision of the state that redo leads to from `from`: its child that was current last. */
export function redoTarget(database: Database, from: Standing): Standing | undefined {
  const last = database
    .prepare<[string, number, number], { state: number }>(
      "select state from revisions where instrument = ? and parent = ? and number <= ? order by number desc limit 1",
    )
    .get(from.instrument, from.state, from.number);
  return last === undefined ? undefined : standingAt(database, from.instrument, last.state);
}

/** The first revision of the state that undo leads to from `from`. */
export const undoTarget = (database: Database, from: Standing): Standing | undefined =>
  from.parent === null ? undefined : standingAt(database, from.instrument, from.parent);

function standingAt(database: Database, instrument: string, number: number): Standing {
  const row = revisionNumbered(database, instrument, number);
  if (row?.state !== number) throw new Error(`revision ${number} of ${instrument} brought no state`);
  return { ...row, state: number };
}

/** What undo and redo would do from a revision, in the words of what they take back and bring again. */
export function steps(database: Database, from: Standing): Pick<InstrumentState, "undo" | "redo"> {
  const here = standingAt(database, from.instrument, from.state);
  return {
    undo: from.parent === null ? null : here.cause,
    redo: redoTarget(database, from)?.cause ?? null,
  };
}

/** What the change that made `row` answers, also when it is asked again later. */
export const saved = (database: Database, row: Standing, text?: string): Saved => ({
  revision: row.number,
  ...steps(database, row),
  ...(text === undefined ? {} : { text }),
});

/** Appends a revision under the next number; to be called inside a transaction. */
export function append(database: Database, row: Omit<Revision, "number">): Revision {
  const last = database
    .prepare<[string], { number: number }>(
      "select coalesce(max(number), 0) as number from revisions where instrument = ?",
    )
    .get(row.instrument);
  const number = (last?.number ?? 0) + 1;
  // a revision that brings a new state is that state's first
  const state = row.kind === "aside" ? null : (row.state ?? number);
  const full: Revision = { ...row, number, state };
  database
    .prepare(
      `insert into revisions (instrument, number, at, kind, cause, page, request, sent, basis, text, state, parent)
       values (@instrument, @number, @at, @kind, @cause, @page, @request, @sent, @basis, @text, @state, @parent)`,
    )
    .run(full);
  return full;
}
