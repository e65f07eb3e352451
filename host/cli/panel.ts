import { readPanelCase, solvePanelCase } from "#engine/shells";
import { type Answer, good, refusal } from "./answer.ts";
import { readJson } from "./caseFile.ts";
import { terminalProgress } from "./progress.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout panel`: one panel case through the structural engine, for comparison with other programs. */
export function panel(path: string, { json = false }: VerbOptions): Answer {
  const file = readJson(path);
  if (!file.ok) return refusal(path, [file.fault], json);
  const read = readPanelCase(file.data);
  if (!read.ok) return refusal(path, [{ path: "", message: read.detail }], json);
  const progress = terminalProgress(process.stderr);
  const solved = solvePanelCase(read.value, progress.stage("modes of the panel", 0, 1));
  progress.end();
  if (!solved.ok) return refusal(path, [{ path: "", message: solved.detail }], json);
  return good(JSON.stringify(solved.value, null, json ? 2 : 1));
}
