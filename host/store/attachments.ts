import { randomUUID } from "node:crypto";
import { createReadStream, existsSync, mkdirSync, renameSync, rmSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Database } from "better-sqlite3";
import { type Attachment, limits } from "#host/api";
import type { Asked } from "./changes.ts";
import { syncFolder } from "./durableFile.ts";
import { absent } from "./instruments.ts";
import { type Kept, kept, troubled } from "./kept.ts";
import { type Received, receive } from "./receive.ts";
import { currentRevision } from "./revisions.ts";
import { diskTrouble, write } from "./write.ts";

/** Where bytes of this digest lie. */
export const attachmentPath = (folder: string, sha256: string): string =>
  join(folder, "attachments", sha256.slice(0, 2), sha256);

/**
 * Writes a stream of bytes beside the database: first under a name of its own, on the disk, then under its digest. Above
 * `limit` bytes it stops, and nothing is left of it.
 */
export async function keepBytes(
  folder: string,
  stream: AsyncIterable<Uint8Array>,
  limit: number = limits.attachment,
): Promise<Kept<Received>> {
  const part = join(folder, "attachments", `${randomUUID()}.part`);
  try {
    mkdirSync(dirname(part), { recursive: true });
    const received = await receive(part, stream, limit);
    if (!received.ok) return received;
    const { sha256, bytes } = received.value;
    const path = attachmentPath(folder, sha256);
    if (!existsSync(path) || statSync(path).size !== bytes) {
      mkdirSync(dirname(path), { recursive: true });
      renameSync(part, path);
    }
    for (const at of [dirname(path), dirname(dirname(path)), folder]) syncFolder(at);
    return received;
  } catch (error) {
    return diskTrouble(error);
  } finally {
    if (existsSync(part)) rmSync(part);
  }
}

const columns = "id, name, media_type as mediaType, bytes, sha256, at";

/** Adds bytes that are kept already to an instrument; the same bytes under the same name again are the same attachment. */
export function attach(
  database: Database,
  asked: Asked,
  instrument: string,
  what: Received & { readonly name: string; readonly mediaType: string },
): Kept<Attachment> {
  return write(database, () => {
    if (currentRevision(database, instrument) === undefined) return absent(instrument);
    const before = database
      .prepare<[string, string, string], Attachment>(
        `select ${columns} from attachments where instrument = ? and sha256 = ? and name = ?`,
      )
      .get(instrument, what.sha256, what.name);
    if (before !== undefined) return kept(before);
    const added: Attachment = {
      id: randomUUID(),
      name: what.name,
      mediaType: what.mediaType,
      bytes: what.bytes,
      sha256: what.sha256,
      at: asked.at,
    };
    database
      .prepare(
        `insert into attachments (instrument, id, name, media_type, bytes, sha256, at, page)
         values (@instrument, @id, @name, @mediaType, @bytes, @sha256, @at, @page)`,
      )
      .run({ ...added, instrument, page: asked.page });
    return kept(added);
  });
}

/** An attachment and a stream of its bytes. */
export function readAttachment(
  database: Database,
  folder: string,
  instrument: string,
  id: string,
): Kept<{ readonly about: Attachment; readonly stream: () => AsyncGenerator<Uint8Array> }> {
  const about = database
    .prepare<[string, string], Attachment>(
      `select ${columns} from attachments where instrument = ? and id = ?`,
    )
    .get(instrument, id);
  if (about === undefined)
    return troubled("absent", `There is no attachment ${id} of instrument ${instrument}.`);
  const path = attachmentPath(folder, about.sha256);
  if (!existsSync(path) || statSync(path).size !== about.bytes)
    return troubled("absent", `The bytes of ${about.name} are gone from the folder's attachments.`);
  return kept({ about, stream: () => fileBytes(path) });
}

/** Opens the file when the first of it is asked for, so that an answer nobody reads holds nothing open. */
async function* fileBytes(path: string): AsyncGenerator<Uint8Array> {
  yield* createReadStream(path);
}
