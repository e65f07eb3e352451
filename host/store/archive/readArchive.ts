import { closeSync, fstatSync, openSync } from "node:fs";
import type { ZodType } from "zod";
import { limits } from "#host/api";
import { type Kept, kept, troubled } from "../kept.ts";
import { sha256 } from "../texts.ts";
import {
  type ArchivedInstrument,
  archivedInstrument,
  archivedText,
  attachmentEntry,
  instrumentEntry,
  manifest,
  manifestName,
  textsName,
} from "./format.ts";
import { historyFault } from "./historyFault.ts";
import { type ZipEntry, zipContent, zipDirectory } from "./zipEntries.ts";

/** A file with everything, wholly read and found whole. Attachments are read when they are asked for. */
export interface ReadArchive {
  readonly instruments: readonly ArchivedInstrument[];
  /** By SHA-256. */
  readonly texts: ReadonlyMap<string, { readonly name: string; readonly text: string }>;
  readonly attachment: (sha256: string) => Buffer;
  readonly close: () => void;
}

/** Histories and documents of one archive, unpacked, bytes. */
const mostText = 1e9;
/** All of it unpacked, bytes: attachments are stored as they are, so no honest archive swells. */
const mostBytes = 2 * limits.archive;

const broken = (why: string) =>
  troubled("archive", `This file was not brought in: ${why}. Nothing was changed.`);

/** Reads a file with everything and holds every part against the manifest; a single wrong byte refuses all of it. */
export async function readArchive(path: string): Promise<Kept<ReadArchive>> {
  const file = openSync(path, "r");
  const read = await readAll(file, fstatSync(file).size);
  if (!read.ok) closeSync(file);
  return read;
}

async function readAll(file: number, length: number): Promise<Kept<ReadArchive>> {
  const directory = zipDirectory(file, length);
  if (directory === null) return broken("it is no whole zip file such as Fairbout writes");
  const entries = new Map(directory.map((entry) => [entry.name, entry]));
  const content = (entry: ZipEntry | undefined, most: number): Buffer | null =>
    entry === undefined || entry.bytes > most ? null : zipContent(file, length, entry);

  const about = parsed(content(entries.get(manifestName), 50e6), manifest);
  if (about === null) return broken("it has no manifest that this Fairbout can read");
  const said = Object.entries(about.files);
  if (said.length !== entries.size - 1) return broken("it does not hold what its manifest says");
  if (directory.reduce((sum, { bytes }) => sum + bytes, 0) > mostBytes)
    return broken("it would swell too much");
  let text = 0;
  for (const [name, { bytes, sha256: digest }] of said) {
    const entry = entries.get(name);
    const attached = name.startsWith("attachments/");
    if (!attached) text += entry?.bytes ?? 0;
    if (text > mostText) return broken("it holds too much text");
    const found = content(entry, attached ? limits.attachment : mostText);
    if (found === null || found.length !== bytes || sha256(found) !== digest)
      return broken(`${name} in it is not as it was written`);
    await new Promise((next) => setImmediate(next));
  }

  const texts = new Map<string, { name: string; text: string }>();
  for (const line of lines(content(entries.get(textsName), mostText))) {
    const one = parsed(line, archivedText);
    if (one === null || sha256(one.text) !== one.sha256 || Buffer.byteLength(one.text) > limits.document)
      return broken("a document in it is not as it was written");
    texts.set(one.sha256, { name: one.name, text: one.text });
  }
  const instruments: ArchivedInstrument[] = [];
  for (const id of new Set(about.instruments)) {
    const one = parsed(content(entries.get(instrumentEntry(id)), mostText), archivedInstrument);
    if (one === null || one.id !== id) return broken(`the history of ${id} in it cannot be read`);
    const fault = historyFault(one, (key) => texts.has(key));
    if (fault !== null) return broken(`the history of ${id} in it ${fault}`);
    const lost = one.attachments.find(
      ({ sha256: key, bytes }) =>
        about.files[attachmentEntry(key)]?.sha256 !== key ||
        about.files[attachmentEntry(key)]?.bytes !== bytes,
    );
    if (lost !== undefined) return broken("an attachment in it is missing");
    instruments.push(one);
  }
  return kept({
    instruments,
    texts,
    attachment: (key) => {
      const bytes = content(entries.get(attachmentEntry(key)), limits.attachment);
      if (bytes === null) throw new Error(`the attachment ${key} was there a moment ago`);
      return bytes;
    },
    close: () => closeSync(file),
  });
}

function parsed<T>(bytes: Buffer | null, schema: ZodType<T>): T | null {
  if (bytes === null) return null;
  try {
    const json: unknown = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
    const read = schema.safeParse(json);
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}

function* lines(bytes: Buffer | null): Generator<Buffer> {
  if (bytes === null) return;
  let start = 0;
  while (start < bytes.length) {
    const end = bytes.indexOf(10, start);
    if (end < 0) return yield bytes.subarray(start);
    yield bytes.subarray(start, end);
    start = end + 1;
  }
}
