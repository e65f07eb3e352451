import { createHash } from "node:crypto";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import type { Database } from "better-sqlite3";
import { checkInstrument } from "#engine/instrument";
import { limits, type RefusedPlace } from "#host/api";
import { type Kept, kept, troubled } from "./kept.ts";

/** SHA-256 (FIPS 180-4) of bytes or of a text in UTF-8, hexadecimal. */
export const sha256 = (content: string | Uint8Array): string =>
  createHash("sha256").update(content).digest("hex");

/** A document that passed every check of the engine. */
export interface CheckedText {
  readonly text: string;
  readonly sha256: string;
  readonly name: string;
}

/** Checks a document's text unless the store holds it as checked already; faults come back with their places. */
export function checkedText(database: Database, text: string): Kept<CheckedText> {
  if (Buffer.byteLength(text) > limits.document)
    return troubled("too-large", `A document has at most ${limits.document / 1e6} MB.`);
  const key = sha256(text);
  const known = database
    .prepare<[string], { name: string }>("select name from texts where sha256 = ? and checked = 1")
    .get(key);
  if (known !== undefined) return kept({ text, sha256: key, name: known.name });
  const checked = checkInstrument(text);
  if (!checked.ok) {
    const issues = checked.issues.map((issue): RefusedPlace => {
      const { severity: _, line: __, column: ___, ...place } = issue;
      return place;
    });
    return troubled("document", "The document has faults, and was not saved.", { issues });
  }
  // a lone half of a surrogate pair has no UTF-8: what is kept would not be what was sent
  if (/\p{Surrogate}/u.test(text))
    return troubled("document", "The document holds half a character (a lone surrogate), and was not saved.");
  return kept({ text, sha256: key, name: checked.build.name });
}

/** Keeps a text that passed its check, once; to be called inside a transaction. */
export function keepText(database: Database, { text, sha256: key, name }: CheckedText): void {
  const bytes = Buffer.from(text);
  database
    .prepare(
      `insert into texts (sha256, name, bytes, deflated, checked) values (?, ?, ?, ?, 1)
       on conflict (sha256) do update set checked = 1, name = excluded.name where checked = 0`,
    )
    .run(key, name, bytes.length, deflateRawSync(bytes));
}

/** A kept text, compared with its digest as it is read. */
export function readText(database: Database, key: string): string {
  const row = database
    .prepare<[string], { bytes: number; deflated: Buffer }>(
      "select bytes, deflated from texts where sha256 = ?",
    )
    .get(key);
  if (row === undefined) throw new Error(`the store has no text ${key}`);
  const bytes = inflateRawSync(row.deflated, { maxOutputLength: Math.max(1, row.bytes) });
  if (sha256(bytes) !== key) throw new Error(`the store's text ${key} is not what was written`);
  return bytes.toString("utf8");
}
