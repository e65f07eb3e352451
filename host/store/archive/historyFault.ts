import type { ArchivedInstrument } from "./format.ts";

type Line = ArchivedInstrument["revisions"][number];

/**
 * What is wrong with a history, in words, or null: numbers without a gap from 1, one revision that made it and that is the first,
 * undo and redo standing in states that were there before with that state's text, each request once, keepsakes of revisions
 * that are there, each id once.
 */
export function historyFault(
  { revisions, keepsakes, attachments }: ArchivedInstrument,
  hasText: (sha256: string) => boolean,
): string | null {
  const before = new Map<number, Line>();
  const requests = new Set<string>();
  for (const [i, line] of revisions.entries()) {
    if (line.number !== i + 1) return `has a gap before revision ${line.number}`;
    if (!hasText(line.text)) return `misses the document of revision ${line.number}`;
    if (requests.has(line.request)) return `has the request of revision ${line.number} twice`;
    if (!stands(line, before)) return `does not hang together at revision ${line.number}`;
    requests.add(line.request);
    before.set(line.number, line);
  }
  if (keepsakes.some(({ revision }) => !before.has(revision))) return "has a keepsake of no revision";
  for (const ids of [keepsakes, attachments]) {
    if (new Set(ids.map(({ id }) => id)).size !== ids.length) return "has an id twice";
  }
  return null;
}

function stands(line: Line, before: ReadonlyMap<number, Line>): boolean {
  const { kind, number, state, parent } = line;
  const brought = (n: number | null) => n !== null && before.get(n)?.state === n;
  if ((kind === "made") !== (number === 1)) return false;
  if (kind === "made") return state === 1 && parent === null;
  if (kind === "aside") return state === null && parent === null;
  if (kind === "edit" || kind === "restore") return state === number && brought(parent);
  const first = before.get(state ?? 0);
  return brought(state) && first?.text === line.text && first.parent === parent;
}
