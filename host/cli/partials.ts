import { readStringCase, solveStringCase } from "#engine/notes";
import { type Answer, good, refusal } from "./answer.ts";
import { readJson } from "./caseFile.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout partials`: one string case through the note engine, for comparison with other programs. */
export function partials(path: string, { json = false }: VerbOptions): Answer {
  const file = readJson(path);
  if (!file.ok) return refusal(path, [file.fault], json);
  const read = readStringCase(file.data);
  if (!read.ok) return refusal(path, [{ path: "", message: read.detail }], json);
  const solved = solveStringCase(read.value);
  if (!solved.ok) return refusal(path, [{ path: "", message: solved.detail }], json);
  return good(JSON.stringify(solved.value, null, 2));
}
