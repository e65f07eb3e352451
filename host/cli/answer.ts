/** What a verb gives back: text for standard output and error, and the exit status. Only main.ts writes it out. */
import {
  accessSync,
  constants,
  existsSync,
  mkdirSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { dirname, join, resolve } from "node:path";
import { wrapped } from "./text.ts";

/** 0 good or watch, 1 a verdict says stop, 2 bad input. */
export type Status = 0 | 1 | 2;

export interface Answer {
  readonly status: Status;
  readonly out: string;
  readonly err: string;
}

/** One fault of the input: its place, what was found, what is allowed and an example where these are known. */
export interface Fault {
  readonly path: string;
  readonly message: string;
  readonly found?: string;
  readonly allowed?: string;
  readonly example?: string;
  /** What would mend it. */
  readonly remedy?: string;
  /** Place in the file's text, counted from 1, where the text itself is at fault. */
  readonly line?: number;
  readonly column?: number;
}

export function good(out: string, status: Status = 0): Answer {
  return { status, out: printable(out.endsWith("\n") ? out : `${out}\n`), err: "" };
}

/** Text from a file may hold control characters that would steer the terminal: each is shown as a question mark. */
function printable(text: string): string {
  return text.replace(/[^\P{Cc}\n]/gu, "?");
}

/** The refusal of bad input: told in words on standard error, and as JSON on standard output where that is asked for. */
export function refusal(file: string, faults: readonly Fault[], json: boolean): Answer {
  const many = faults.length === 1 ? "one fault" : `${faults.length} faults`;
  const text = [`${file}: ${many}`, ...faults.map(faultText)].join("\n");
  return {
    status: 2,
    out: json ? `${JSON.stringify({ faults }, null, 2)}\n` : "",
    err: `${printable(text)}\n`,
  };
}

function faultText(fault: Fault): string {
  const place = fault.line === undefined ? "" : `line ${fault.line}, column ${fault.column ?? 1}`;
  const where = [fault.path, place].filter((word) => word !== "").join(", ");
  const note = (title: string, words: string | undefined) =>
    words === undefined ? [] : [wrapped(words, `    ${title}: `, "      ")];
  return [
    ...(where === "" ? [] : [`  ${where}`]),
    wrapped(fault.message, "    "),
    ...note("allowed", fault.allowed),
    ...note("for example", fault.example),
    ...note("remedy", fault.remedy),
  ].join("\n");
}

/** Why nothing can be written into a folder that may not be there yet, in words, or null: told before the work, not after it. */
export function outFault(folder: string): string | null {
  let here = resolve(folder);
  while (!existsSync(here)) here = dirname(here);
  if (!statSync(here).isDirectory()) {
    return here === resolve(folder) ? "This is a file; name a folder." : `${here} is a file, not a folder.`;
  }
  try {
    accessSync(here, constants.W_OK);
    return null;
  } catch {
    return `Nothing may be written into ${here} (no permission).`;
  }
}

/**
 * Writes files into a folder, all of them under temporary names first, so that an interrupted run leaves no half-written
 * file and no part of a set. Returns the fault in words, or null.
 */
export function writeInto(
  folder: string,
  files: Readonly<Record<string, string | Uint8Array>>,
): string | null {
  const paths = Object.keys(files).map((name) => join(folder, name));
  try {
    mkdirSync(folder, { recursive: true });
    Object.values(files).forEach((text, i) => {
      writeFileSync(`${paths[i]}.part`, text);
    });
    for (const path of paths) renameSync(`${path}.part`, path);
    return null;
  } catch (error) {
    for (const path of paths) if (existsSync(`${path}.part`)) rmSync(`${path}.part`, { force: true });
    return `Could not be written (${(error as { code?: string }).code ?? String(error)}).`;
  }
}
