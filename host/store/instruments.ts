import type { Database } from "better-sqlite3";
import type {
  Attachment,
  InstrumentCard,
  InstrumentState,
  Keepsake,
  PutAway,
  RevisionLine,
  SetAside,
} from "#host/api";
import { type Kept, kept, troubled } from "./kept.ts";
import { currentRevision, type Revision, revisionNumbered, steps } from "./revisions.ts";
import { readText } from "./texts.ts";
import { write } from "./write.ts";

const cardColumns = `
  select instruments.id, texts.name, number as revision, made, at as changed, away
  from instruments
  join revisions on instrument = instruments.id
    and number = (select max(number) from revisions where instrument = instruments.id and kind <> 'aside')
  join texts on sha256 = text`;

type CardRow = Omit<InstrumentCard, "away"> & { readonly away: 0 | 1 };
const card = (row: CardRow): InstrumentCard => ({ ...row, away: row.away === 1 });

/** Every instrument, the one changed last first; those put away among them. */
export const instrumentCards = (database: Database): InstrumentCard[] =>
  database.prepare<[], CardRow>(`${cardColumns} order by changed desc, id`).all().map(card);

export const absent = (id: string) => troubled("absent", `There is no instrument ${id}.`);

export function instrumentCard(database: Database, id: string): Kept<InstrumentCard> {
  const row = database.prepare<[string], CardRow>(`${cardColumns} where instruments.id = ?`).get(id);
  return row === undefined ? absent(id) : kept(card(row));
}

/** An instrument as it stands. */
export function instrumentState(database: Database, id: string): Kept<InstrumentState> {
  const current = currentRevision(database, id);
  if (current === undefined) return absent(id);
  const card = instrumentCard(database, id);
  if (!card.ok) return card;
  return kept({
    id,
    name: card.value.name,
    revision: current.number,
    text: readText(database, current.text),
    ...steps(database, current),
    keepsakes: database
      .prepare<[string], Keepsake>(
        "select id, name, revision, at from keepsakes where instrument = ? order by at, rowid",
      )
      .all(id),
    aside: database
      .prepare<[string], Revision>(
        "select * from revisions where instrument = ? and kind = 'aside' order by number desc",
      )
      .all(id)
      .map(setAside),
    attachments: database
      .prepare<[string], Attachment>(
        `select id, name, media_type as mediaType, bytes, sha256, at
         from attachments where instrument = ? order by at, rowid`,
      )
      .all(id),
  });
}

export const setAside = (row: Revision): SetAside => ({
  revision: row.number,
  basis: row.basis,
  cause: row.cause,
  at: row.at,
});

/** At most 200 lines of the history, newest first, older than `before` if that is given. */
export function instrumentHistory(database: Database, id: string, before?: number): Kept<RevisionLine[]> {
  if (currentRevision(database, id) === undefined) return absent(id);
  return kept(
    database
      .prepare<[string, number], RevisionLine>(
        `select number as revision, at, kind, cause from revisions
         where instrument = ? and number < ? order by number desc limit 200`,
      )
      .all(id, before ?? Number.MAX_SAFE_INTEGER),
  );
}

export function revisionText(database: Database, id: string, number: number): Kept<string> {
  const row = revisionNumbered(database, id, number);
  if (row === undefined) return troubled("absent", `There is no revision ${number} of instrument ${id}.`);
  return kept(readText(database, row.text));
}

/** Puts an instrument out of sight, or back: nothing of it is lost. */
export function putAway(database: Database, id: string, { away }: PutAway): Kept<InstrumentCard> {
  return write(database, () => {
    database.prepare("update instruments set away = ? where id = ?").run(away === "yes" ? 1 : 0, id);
    return instrumentCard(database, id);
  });
}
