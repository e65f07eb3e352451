import { createHash } from "node:crypto";
import { createReadStream, statSync } from "node:fs";
import Database from "better-sqlite3";
// the entry without worker threads: it needs nothing of Node, and so goes into any bundle
import { Zip, ZipDeflate, ZipPassThrough } from "fflate/browser";
import { limits } from "#host/api";
import { attachmentPath } from "../attachments.ts";
import { type Kept, kept, troubled } from "../kept.ts";
import { readText } from "../texts.ts";
import {
  type ArchivedInstrument,
  type ArchivedText,
  archiveFormat,
  attachmentEntry,
  instrumentEntry,
  type Manifest,
  manifestName,
  textsName,
} from "./format.ts";

/** One file with everything, or with everything of one instrument, as a stream: a snapshot, while edits go on. */
export function writeArchive(
  databasePath: string,
  folder: string,
  at: Date,
  only?: string,
): Kept<AsyncGenerator<Uint8Array>> {
  const database = new Database(databasePath, { readonly: true });
  try {
    const trouble = archiveTrouble(folder, only, chosen(database, only));
    if (trouble !== null) return trouble;
  } finally {
    database.close();
  }
  // a stream that nobody reads opens nothing
  return kept(entries(databasePath, folder, at, only));
}

const chosen = (database: Database.Database, only: string | undefined): ArchivedInstrument[] =>
  database
    .prepare<[{ only: string | null }], { id: string }>(
      "select id from instruments where @only is null or id = @only order by made, id",
    )
    .all({ only: only ?? null })
    .map(({ id }) => archived(database, id));

const attachedTo = (instruments: readonly ArchivedInstrument[]): ReadonlySet<string> =>
  new Set(instruments.flatMap((one) => one.attachments.map(({ sha256 }) => sha256)));

function archiveTrouble(
  folder: string,
  only: string | undefined,
  instruments: readonly ArchivedInstrument[],
) {
  if (only !== undefined && instruments.length === 0)
    return troubled("absent", `There is no instrument ${only}.`);
  let bytes = 0;
  for (const sha256 of attachedTo(instruments)) {
    try {
      bytes += statSync(attachmentPath(folder, sha256)).size;
    } catch {
      return troubled(
        "archive",
        `The bytes of the attachment ${sha256} are gone: not everything can be handed out.`,
      );
    }
  }
  return bytes > limits.archive * 0.9
    ? troubled("too-large", "This is too much for one file: hand out one instrument at a time.")
    : null;
}

function archived(database: Database.Database, id: string): ArchivedInstrument {
  const row = database
    .prepare<[string], { made: string; away: 0 | 1 }>("select made, away from instruments where id = ?")
    .get(id);
  if (row === undefined) throw new Error(`there is no instrument ${id}`);
  return {
    id,
    made: row.made,
    away: row.away === 1 ? "yes" : "no",
    revisions: database
      .prepare<[string], ArchivedInstrument["revisions"][number]>(
        `select number, at, kind, cause, page, request, sent, basis, text, state, parent
         from revisions where instrument = ? order by number`,
      )
      .all(id),
    keepsakes: database
      .prepare<[string], ArchivedInstrument["keepsakes"][number]>(
        "select id, name, revision, at, page from keepsakes where instrument = ? order by at, rowid",
      )
      .all(id),
    attachments: database
      .prepare<[string], ArchivedInstrument["attachments"][number]>(
        `select id, name, media_type as mediaType, bytes, sha256, at, page
         from attachments where instrument = ? order by at, rowid`,
      )
      .all(id),
  };
}

async function* entries(
  databasePath: string,
  folder: string,
  at: Date,
  only: string | undefined,
): AsyncGenerator<Uint8Array> {
  const database = new Database(databasePath, { readonly: true });
  const out: Uint8Array[] = [];
  const zip = new Zip((error, chunk) => {
    if (error) throw error;
    out.push(chunk);
  });
  const files: Manifest["files"] = {};
  /** Adds an entry and hands out what has become of the zip so far. */
  async function* entry(
    name: string,
    deflate: boolean,
    parts: Iterable<Uint8Array> | AsyncIterable<Uint8Array>,
  ) {
    const file = deflate ? new ZipDeflate(name, { level: 6 }) : new ZipPassThrough(name);
    file.mtime = at;
    zip.add(file);
    const hash = createHash("sha256");
    let bytes = 0;
    for await (const part of parts) {
      hash.update(part);
      bytes += part.length;
      file.push(part, false);
      yield* out.splice(0);
    }
    file.push(new Uint8Array(0), true);
    files[name] = { bytes, sha256: hash.digest("hex") };
    yield* out.splice(0);
  }
  try {
    database.exec("begin");
    const instruments = chosen(database, only);
    yield* entry(textsName, true, textLines(database, instruments));
    const names = new Set<string>();
    for (const instrument of instruments) {
      yield* entry(instrumentEntry(instrument.id), true, [json(instrument)]);
      const current = instrument.revisions.filter(({ kind }) => kind !== "aside").at(-1);
      if (current === undefined) throw new Error(`instrument ${instrument.id} has no current revision`);
      const text = readText(database, current.text);
      yield* entry(documentName(nameOf(database, current.text), names), true, [Buffer.from(text)]);
    }
    for (const sha256 of attachedTo(instruments))
      yield* entry(attachmentEntry(sha256), false, createReadStream(attachmentPath(folder, sha256)));
    const about: Manifest = {
      format: archiveFormat,
      made: at.toISOString(),
      files: { ...files },
      instruments: instruments.map(({ id }) => id),
    };
    yield* entry(manifestName, true, [json(about)]);
    zip.end();
    yield* out.splice(0);
  } finally {
    database.close();
  }
}

const json = (value: unknown): Uint8Array => Buffer.from(`${JSON.stringify(value, null, 1)}\n`);

function* textLines(
  database: Database.Database,
  instruments: readonly ArchivedInstrument[],
): Generator<Uint8Array> {
  const keys = new Set(instruments.flatMap((one) => one.revisions.map(({ text }) => text)));
  for (const sha256 of keys) {
    const line: ArchivedText = { sha256, name: nameOf(database, sha256), text: readText(database, sha256) };
    yield Buffer.from(`${JSON.stringify(line)}\n`);
  }
}

const nameOf = (database: Database.Database, sha256: string): string =>
  database.prepare<[string], { name: string }>("select name from texts where sha256 = ?").get(sha256)?.name ??
  "";

/** A file name that every system takes, and that no other document in the archive has. */
function documentName(name: string, taken: Set<string>): string {
  const plain =
    name
      .replace(/[^\p{L}\p{N} _-]/gu, "")
      .trim()
      .slice(0, 80) || "instrument";
  let free = plain;
  for (let i = 2; taken.has(free.toLowerCase()); i++) free = `${plain} ${i}`;
  taken.add(free.toLowerCase());
  return `documents/${free}.fairbout.json`;
}
