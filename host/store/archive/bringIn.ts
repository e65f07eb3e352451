import { randomUUID } from "node:crypto";
import { existsSync, rmSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import { deflateRawSync } from "node:zlib";
import type { Database } from "better-sqlite3";
import { type InstrumentCard, limits } from "#host/api";
import { keepBytes } from "../attachments.ts";
import { instrumentCard } from "../instruments.ts";
import { type Kept, kept } from "../kept.ts";
import { receive } from "../receive.ts";
import { type CheckedText, checkedText, keepText } from "../texts.ts";
import { diskTrouble, write } from "../write.ts";
import type { ArchivedInstrument } from "./format.ts";
import { type ReadArchive, readArchive } from "./readArchive.ts";

/**
 * Brings in a file with everything, beside what is there: an instrument whose id is here already comes in under a new one. All
 * of it comes in or, if a single part is not as it should be, nothing.
 */
export async function bringIn(
  database: Database,
  folder: string,
  stream: AsyncIterable<Uint8Array>,
): Promise<Kept<InstrumentCard[]>> {
  const part = join(folder, `incoming-${randomUUID()}.part`);
  try {
    const received = await receive(part, stream, limits.archive);
    if (!received.ok) return received;
    const read = await readArchive(part);
    if (!read.ok) return read;
    try {
      return await add(database, folder, read.value);
    } finally {
      read.value.close();
    }
  } catch (error) {
    return diskTrouble(error);
  } finally {
    if (existsSync(part)) rmSync(part);
  }
}

async function add(
  database: Database,
  folder: string,
  archive: ReadArchive,
): Promise<Kept<InstrumentCard[]>> {
  // what stands must pass every check now; older states pass it when they are made current again
  const standing: CheckedText[] = [];
  for (const { revisions } of archive.instruments) {
    const current = revisions.findLast(({ kind }) => kind !== "aside");
    const text = archive.texts.get(current?.text ?? "");
    if (text === undefined) throw new Error("a history without a document was let through");
    const checked = checkedText(database, text.text);
    if (!checked.ok)
      return {
        ok: false,
        trouble: { ...checked.trouble, message: `${text.name}: ${checked.trouble.message}` },
      };
    standing.push(checked.value);
    await new Promise((next) => setImmediate(next));
  }
  for (const sha256 of new Set(archive.instruments.flatMap((one) => one.attachments.map((a) => a.sha256)))) {
    const bytes = await keepBytes(folder, Readable.from([archive.attachment(sha256)]));
    if (!bytes.ok) return bytes;
  }
  return write(database, () => {
    for (const text of standing) keepText(database, text);
    const used = new Set(archive.instruments.flatMap((one) => one.revisions.map(({ text }) => text)));
    for (const key of used) {
      const { name, text } = archive.texts.get(key) ?? { name: "", text: "" };
      const bytes = Buffer.from(text);
      database
        .prepare(
          "insert into texts (sha256, name, bytes, deflated, checked) values (?, ?, ?, ?, 0) on conflict do nothing",
        )
        .run(key, name, bytes.length, deflateRawSync(bytes));
    }
    const cards: InstrumentCard[] = [];
    for (const one of archive.instruments) {
      const card = instrumentCard(database, addInstrument(database, one));
      if (!card.ok) throw new Error(card.trouble.message);
      cards.push(card.value);
    }
    return kept(cards);
  });
}

function addInstrument(database: Database, one: ArchivedInstrument): string {
  const there = database.prepare<[string]>("select 1 from instruments where id = ?").get(one.id);
  const instrument = there === undefined ? one.id : randomUUID();
  database
    .prepare("insert into instruments (id, made, away) values (?, ?, ?)")
    .run(instrument, one.made, one.away === "yes" ? 1 : 0);
  const revision = database.prepare(
    `insert into revisions (instrument, number, at, kind, cause, page, request, sent, basis, text, state, parent)
     values (@instrument, @number, @at, @kind, @cause, @page, @request, @sent, @basis, @text, @state, @parent)`,
  );
  for (const line of one.revisions) revision.run({ ...line, instrument });
  const keepsake = database.prepare(
    `insert into keepsakes (instrument, id, name, revision, at, page)
     values (@instrument, @id, @name, @revision, @at, @page)`,
  );
  for (const line of one.keepsakes) keepsake.run({ ...line, instrument });
  const attachment = database.prepare(
    `insert into attachments (instrument, id, name, media_type, bytes, sha256, at, page)
     values (@instrument, @id, @name, @mediaType, @bytes, @sha256, @at, @page)`,
  );
  for (const line of one.attachments) attachment.run({ ...line, instrument });
  return instrument;
}
