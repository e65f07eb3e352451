import { readSync } from "node:fs";
import { inflateRawSync } from "node:zlib";

/** An entry of a zip file as its directory tells it; sizes in bytes. */
export interface ZipEntry {
  readonly name: string;
  readonly deflated: boolean;
  readonly packed: number;
  readonly bytes: number;
  /** Where its local header begins. */
  readonly offset: number;
}

const endLength = 22;
const longestComment = 65_535;

/**
 * The directory of a zip file (PKWARE APPNOTE 4.3.12, 4.3.16; from memory), or null if it is none that is written here: no part of
 * another, not encrypted, no 64-bit sizes, stored or deflated, each name once. Every size is held against the file's own.
 */
export function zipDirectory(file: number, length: number): readonly ZipEntry[] | null {
  const tail = bytesAt(file, Math.max(0, length - endLength - longestComment), length);
  if (tail === null) return null;
  let end = tail.length - endLength;
  while (end >= 0 && tail.readUInt32LE(end) !== 0x06054b50) end--;
  if (end < 0) return null;
  const count = tail.readUInt16LE(end + 10);
  const size = tail.readUInt32LE(end + 12);
  const start = tail.readUInt32LE(end + 16);
  const parts = tail.readUInt16LE(end + 4) + tail.readUInt16LE(end + 6);
  if (parts !== 0 || tail.readUInt16LE(end + 8) !== count || start + size > length || size > 20e6)
    return null;
  const directory = bytesAt(file, start, start + size);
  if (directory === null) return null;
  const found = entriesOf(directory, count);
  if (found === null) return null;
  // entries that share bytes are how a small file is made to swell
  const packed = found.reduce((sum, entry) => sum + entry.packed, 0);
  const whole = found.every((entry) => entry.offset + 30 + entry.packed <= start);
  const names = new Set(found.map(({ name }) => name));
  return packed <= length && whole && names.size === found.length ? found : null;
}

function entriesOf(directory: Buffer, count: number): ZipEntry[] | null {
  const found: ZipEntry[] = [];
  let at = 0;
  for (let i = 0; i < count; i++) {
    if (at + 46 > directory.length || directory.readUInt32LE(at) !== 0x02014b50) return null;
    const flags = directory.readUInt16LE(at + 8);
    const method = directory.readUInt16LE(at + 10);
    const packed = directory.readUInt32LE(at + 20);
    const bytes = directory.readUInt32LE(at + 24);
    const nameLength = directory.readUInt16LE(at + 28);
    const rest = directory.readUInt16LE(at + 30) + directory.readUInt16LE(at + 32);
    const offset = directory.readUInt32LE(at + 42);
    const next = at + 46 + nameLength + rest;
    if (next > directory.length || (flags & 1) !== 0 || (method !== 0 && method !== 8)) return null;
    if (packed === 0xffffffff || bytes === 0xffffffff || (method === 0 && packed !== bytes)) return null;
    const name = directory.toString("utf8", at + 46, at + 46 + nameLength);
    found.push({ name, deflated: method === 8, packed, bytes, offset });
    at = next;
  }
  return found;
}

/** The bytes of an entry, or null if they are not as the directory says. */
export function zipContent(file: number, length: number, entry: ZipEntry): Buffer | null {
  const header = bytesAt(file, entry.offset, entry.offset + 30);
  if (header === null || header.readUInt32LE(0) !== 0x04034b50) return null;
  const start = entry.offset + 30 + header.readUInt16LE(26) + header.readUInt16LE(28);
  if (start + entry.packed > length) return null;
  const packed = bytesAt(file, start, start + entry.packed);
  if (packed === null || !entry.deflated) return packed;
  try {
    const bytes = inflateRawSync(packed, { maxOutputLength: Math.max(1, entry.bytes) });
    return bytes.length === entry.bytes ? bytes : null;
  } catch {
    return null;
  }
}

/** The bytes from `from` to `to`, or null if the file does not have them all. */
function bytesAt(file: number, from: number, to: number): Buffer | null {
  const bytes = Buffer.alloc(to - from);
  let got = 0;
  while (got < bytes.length) {
    const more = readSync(file, bytes, got, bytes.length - got, from + got);
    if (more === 0) return null;
    got += more;
  }
  return bytes;
}
