/** Reading what the maker names: a file of bounded size and valid text, or a plain reason why not. */
import { closeSync, openSync, readSync, statSync } from "node:fs";

/** Largest file read, in bytes. The examples are about 20 kB; a file of this size is no instrument and no case. */
export const largestFile = 16e6;

export type FileText =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly message: string };

/** The text of a file, or what is wrong with it and what is allowed. */
export function readText(path: string): FileText {
  const refuse = (message: string): FileText => ({ ok: false, message: `This file ${message}.` });
  try {
    const about = statSync(path);
    if (about.isDirectory())
      return refuse("is a folder; name a document, for example examples/low-radial.fairbout.json");
    if (about.size > largestFile) {
      const megabytes = (about.size / 1e6).toFixed(1);
      return refuse(`is ${megabytes} MB large; at most ${(largestFile / 1e6).toFixed(1)} MB are read`);
    }
    const bytes = Buffer.alloc(largestFile + 1);
    const length = readAll(path, bytes);
    if (length > largestFile)
      return refuse(`goes on past ${(largestFile / 1e6).toFixed(1)} MB, the most that is read`);
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes.subarray(0, length));
    return { ok: true, text };
  } catch (error) {
    return refuse(reason(error));
  }
}

/** Reads until the end or until the buffer is full: a pipe or device has no size to ask for. */
function readAll(path: string, into: Buffer): number {
  const file = openSync(path, "r");
  try {
    let length = 0;
    while (length < into.length) {
      const got = readSync(file, into, length, into.length - length, null);
      if (got === 0) break;
      length += got;
    }
    return length;
  } finally {
    closeSync(file);
  }
}

function reason(error: unknown): string {
  const code = (error as { code?: string }).code;
  if (code === "ENOENT")
    return "does not exist; look at the name and the folder, or make one with: fairbout new my-guitar.fairbout.json";
  if (code === "EACCES") return "may not be read (no permission)";
  if (error instanceof TypeError)
    return "is not text in UTF-8; save it from the editor as plain text, encoding UTF-8";
  return `could not be read (${code ?? String(error)})`;
}
