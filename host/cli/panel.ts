import { quiet } from "#engine/numerics";
import { readPanelCase, solvePanelCase } from "#engine/shells";
import { type Answer, good, refusal } from "./answer.ts";
import { readJson } from "./caseFile.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout panel`: one panel case through the structural engine, for comparison with other programs. */
export function panel(path: string, { json = false }: VerbOptions): Answer {
  const file = readJson(path);
  if (!file.ok) return refusal(path, [file.fault], json);
  const read = readPanelCase(file.data);
  if (!read.ok) return refusal(path, [{ path: "", message: read.detail }], json);
  const solved = solvePanelCase(read.value, quiet);
  if (!solved.ok) return refusal(path, [{ path: "", message: solved.detail }], json);
  return good(JSON.stringify(solved.value, null, json ? 2 : 1));
}
