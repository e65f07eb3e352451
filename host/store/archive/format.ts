import {
  array,
  int,
  literal,
  nullable,
  enum as oneOf,
  record,
  strictObject,
  string,
  type infer as Typed,
} from "zod";

/**
 * One file with everything: a zip that any program opens. `manifest.json` comes last and names every other entry with its size
 * and SHA-256; `texts.jsonl` holds each document once, a line of JSON each; `instruments/ID.json` holds an instrument's whole
 * history; `attachments/SHA256` their bytes; `documents/` the documents as they stand, to be read without this program.
 */
export const archiveFormat = "fairbout/archive@1";

export const manifestName = "manifest.json";
export const textsName = "texts.jsonl";
export const instrumentEntry = (id: string): string => `instruments/${id}.json`;
export const attachmentEntry = (sha256: string): string => `attachments/${sha256}`;

const digest = string().regex(/^[0-9a-f]{64}$/);
const uuid = string().regex(/^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/);
const time = string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
const words = string()
  .min(1)
  .max(400)
  .regex(/^[^\p{Cc}\p{Surrogate}]*$/u);
const number = int().min(1);

export const manifest = strictObject({
  format: literal(archiveFormat),
  made: time,
  files: record(string(), strictObject({ bytes: int().min(0), sha256: digest })),
  instruments: array(uuid),
});

export const archivedText = strictObject({ sha256: digest, name: string(), text: string() });

export const archivedInstrument = strictObject({
  id: uuid,
  made: time,
  away: oneOf(["yes", "no"]),
  revisions: array(
    strictObject({
      number,
      at: time,
      kind: oneOf(["made", "edit", "undo", "redo", "restore", "aside"]),
      cause: words,
      page: string().max(64),
      request: uuid,
      sent: digest,
      basis: int().min(0),
      text: digest,
      state: nullable(number),
      parent: nullable(number),
    }),
  ).min(1),
  keepsakes: array(
    strictObject({ id: uuid, name: words, revision: number, at: time, page: string().max(64) }),
  ),
  attachments: array(
    strictObject({
      id: uuid,
      name: words,
      mediaType: string().max(80),
      bytes: int().min(0),
      sha256: digest,
      at: time,
      page: string().max(64),
    }),
  ),
});

export type Manifest = Typed<typeof manifest>;
export type ArchivedText = Typed<typeof archivedText>;
export type ArchivedInstrument = Typed<typeof archivedInstrument>;
