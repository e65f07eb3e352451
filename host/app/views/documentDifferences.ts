import { type Json, type Step, stepsOf } from "../bench/index.ts";
import { entryName, fieldName } from "../inspector/fieldNames.ts";
import { differencesOf } from "../shell/differences.ts";

/** A field in which two documents differ, in words; null: nothing is said there. */
export interface FieldDifference {
  readonly path: string;
  /** "Top, ray 3: Height". */
  readonly name: string;
  readonly a: string | null;
  readonly b: string | null;
}

type Record_ = { readonly [key: string]: Json };

/** Every field in which two documents differ, named as the trade does; null: one of them cannot be read. */
export function documentDifferences(a: string, b: string): readonly FieldDifference[] | null {
  const [left, right] = [read(a), read(b)];
  if (left === null || right === null) return null;
  return differencesOf(left, right).map((difference) => ({
    ...difference,
    name: fieldWords(stepsOf(difference.path), left, right),
  }));
}

/** Whether two documents are of the same wood: none of the differing fields says what a board is or how stiff it is. */
export function sameWood(differences: readonly FieldDifference[]): boolean {
  return !differences.some(({ path }) =>
    /(^|\.)(wood|species|density|stiffness\w*|shear\w*|poisson|loss\w*|measured)(\.|\[|$)/.test(path),
  );
}

/** "Top, ray 3: Height": entries of lists by their own name where they have one. */
function fieldWords(steps: readonly Step[], left: Json, right: Json): string {
  const words: string[] = [];
  const keys: string[] = [];
  steps.forEach((step, i) => {
    if (typeof step === "number") {
      const own = entryOf(left, steps.slice(0, i + 1)) ?? entryOf(right, steps.slice(0, i + 1));
      // the entry says which list it is of
      words.splice(-1, 1, own ?? entryName(keys.at(-1) ?? "", step));
    } else {
      keys.push(step);
      // "value" of a measured quantity is the quantity
      if (!(step === "value" && i === steps.length - 1 && i > 0)) words.push(fieldName(keys));
    }
  });
  const last = words.pop() ?? "The document";
  return words.length === 0 ? last : `${words.join(", ")}: ${last}`;
}

/** The name, or the note, of an entry of a list. */
function entryOf(document: Json, steps: readonly Step[]): string | null {
  let at: Json | undefined = document;
  for (const step of steps)
    at =
      typeof step === "number"
        ? Array.isArray(at)
          ? (at as readonly Json[])[step]
          : undefined
        : isRecord(at)
          ? at[step]
          : undefined;
  if (!isRecord(at)) return null;
  const name = at["name"] ?? at["note"];
  return typeof name === "string" ? name : null;
}

function isRecord(value: Json | undefined): value is Record_ {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function read(text: string): Json | null {
  try {
    return JSON.parse(text) as Json;
  } catch {
    return null;
  }
}
