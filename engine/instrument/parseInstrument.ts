import { explainAll, pathText, shown } from "./explain.ts";
import type { Issue } from "./issue.ts";
import { readJson, type TextPlace } from "./jsonText.ts";
import { migrateForward, migrations } from "./migrations/index.ts";
import { currentVersion, formatName, type InstrumentDocument, instrumentSchema } from "./schema/document.ts";
import { mostBraces } from "./schema/plate.ts";

/**
 * A document is hand-written text: the examples are about 20 kB, and one with every knock of a year in its log perhaps ten
 * times that. One larger than this (characters) is refused before it is read.
 */
export const largestDocument = 16e6;

/** More faults than this are not listed one by one. */
const mostIssues = 100;

export type ParsedInstrument =
  | { readonly ok: true; readonly document: InstrumentDocument; readonly placeOf: PlaceOf }
  | { readonly ok: false; readonly issues: readonly Issue[] };

/** Line and column of a place in the document, or of the nearest thing round it that is there. */
export type PlaceOf = (path: readonly PropertyKey[]) => TextPlace | null;

/** Reads an instrument document: JSON, version, migrations, schema. Reports every fault it finds, all at once. */
export function parseInstrument(text: string): ParsedInstrument {
  if (text.length > largestDocument) {
    return refuse(
      "too-large",
      "",
      `The file is ${(text.length / 1e6).toFixed(1)} MB; an instrument document is refused above ${largestDocument / 1e6} MB.`,
      {
        remedy: "Keep photos and recordings beside the document and name their files in its log.",
      },
    );
  }
  const json = readJson(text);
  if (!json.ok) {
    return refuse("not-json", "", `This is not JSON: ${json.message}`, {
      ...json.place,
      allowed: "one JSON object in curly brackets",
    });
  }
  const raw = json.value;
  if (typeof raw !== "object" || raw === null || Array.isArray(raw)) {
    return refuse("not-a-document", "", "An instrument document is one group of keys in curly brackets.", {
      found: shown(raw),
      example: `{ "format": "${formatName}@${currentVersion}", ... }`,
    });
  }
  const record = raw as Record<string, unknown>;
  const version = versionOf(record["format"]);
  if (typeof version !== "number")
    return { ok: false, issues: [{ ...version, ...(json.placeOf(["format"]) ?? {}) }] };

  const crowd = crowdFault(record);
  if (crowd !== null) return { ok: false, issues: [{ ...crowd.issue, ...(json.placeOf(crowd.path) ?? {}) }] };

  const current = migrateForward(record, version, migrations, (v) => `${formatName}@${v}`);
  const checked = instrumentSchema.safeParse(current, { reportInput: true });
  if (checked.success) return { ok: true, document: checked.data, placeOf: json.placeOf };
  const paths = new Map(checked.error.issues.map((issue) => [pathText(issue.path), issue.path] as const));
  const { issues: faults } = checked.error;
  const issues = capped(
    explainAll(faults.slice(0, mostIssues + 1), instrumentSchema, current),
    faults.length,
  );
  return {
    ok: false,
    issues: issues.map((issue) => ({
      ...issue,
      ...(json.placeOf(paths.get(issue.path) ?? splitPath(issue.path)) ?? {}),
    })),
  };
}

/** The keys of a path as written in an issue. */
export function splitPath(path: string): PropertyKey[] {
  return [...path.matchAll(/\[(\d+)\]|([^.[\]]+)/g)].map((m) =>
    m[1] === undefined ? (m[2] ?? "") : Number(m[1]),
  );
}

/** The first faults, and how many more there are of the `found` ones: at least, since one may be told in several. */
function capped(issues: readonly Issue[], found: number): Issue[] {
  if (issues.length <= mostIssues) return [...issues];
  const left = Math.max(issues.length, found) - mostIssues;
  return [
    ...issues.slice(0, mostIssues),
    {
      code: "more",
      path: "",
      message: `There are ${left} more faults that are not listed.`,
      severity: "stop",
    },
  ];
}

function refuse(code: string, path: string, message: string, rest: Partial<Issue> = {}): ParsedInstrument {
  return { ok: false, issues: [{ code, path, message, ...rest, severity: "stop" }] };
}

/** The version in "fairbout/instrument@1", or the issue. */
function versionOf(format: unknown): number | Issue {
  const allowed = `${formatName}@1 to ${formatName}@${currentVersion}`.replace(
    `${formatName}@1 to ${formatName}@1`,
    `${formatName}@1`,
  );
  const example = JSON.stringify(`${formatName}@${currentVersion}`);
  const fault = (code: string, message: string): Issue => ({
    code,
    path: "format",
    message,
    found: shown(format),
    allowed,
    example,
    severity: "stop",
  });
  if (format === undefined)
    return fault("missing", '"format" is missing: without it the document cannot be told from another file.');
  const match = typeof format === "string" ? /^fairbout\/instrument@(\d{1,6})$/.exec(format) : null;
  if (match === null)
    return fault("wrong-format", `${shown(format)} is not the format word of an instrument document.`);
  const version = Number(match[1]);
  if (version > currentVersion)
    return fault(
      "wrong-version",
      `This document has version ${version}; this Fairbout reads up to version ${currentVersion}. A newer Fairbout wrote it.`,
    );
  if (version < 1) return fault("wrong-version", `There never was a version ${version}.`);
  return version;
}

/** Refuses a crowd of braces by its number alone, before each of them is looked at. */
function crowdFault(record: Record<string, unknown>): { issue: Issue; path: string[] } | null {
  for (const side of ["top", "back"]) {
    const plate = record[side];
    const braces =
      typeof plate === "object" && plate !== null ? (plate as Record<string, unknown>)["braces"] : undefined;
    if (Array.isArray(braces) && braces.length > mostBraces) {
      const issue: Issue = {
        code: "too-many",
        path: `${side}.braces`,
        message: `There are ${braces.length} braces on the ${side}; more than ${mostBraces} on one plate are taken for a mistake in the file.`,
        found: `${braces.length} braces`,
        allowed: `at most ${mostBraces}`,
        severity: "stop",
      };
      return { issue, path: [side, "braces"] };
    }
  }
  return null;
}
