/** Seeded ways of spoiling a text, a JSON value, some bytes and a path, as a broken program or a hostile one would. */

export interface Dice {
  /** 0 to 1, without 1. */
  readonly random: () => number;
  readonly below: (n: number) => number;
  readonly pick: <T>(things: readonly T[]) => T;
}

export function makeDice(random: () => number): Dice {
  const below = (n: number) => Math.floor(random() * n);
  return {
    random,
    below,
    pick: (things) => {
      const thing = things[below(things.length)];
      if (thing === undefined) throw new Error("nothing to pick from");
      return thing;
    },
  };
}

type Json = unknown;

/** Values that programs stumble over. */
const awkward: readonly Json[] = [
  null,
  true,
  0,
  -1,
  1e308,
  -0,
  2 ** 53,
  "",
  " ",
  "\u0000",
  "\ud800",
  "NaN mm",
  "1e999 mm",
  "-5 mm",
  "5",
  "x".repeat(5000),
  "💥".repeat(300),
  "'; drop table revisions; --",
  "../../etc/passwd",
  "<script>alert(1)</script>",
  [],
  [[]],
  {},
  { __proto__: null, constructor: 1 },
];

type Place = readonly (string | number)[];

/** Every place in a value, as the list of keys that leads there. */
export function places(value: Json, at: Place = []): Place[] {
  if (typeof value !== "object" || value === null) return [at];
  const inside = Object.entries(value).flatMap(([key, child]) =>
    places(child, [...at, Array.isArray(value) ? Number(key) : key]),
  );
  return [at, ...inside];
}

/** A copy of a value with one place in it spoiled: another value there, the place gone, doubled, renamed or put deep inside. */
export function spoiledJson(value: Json, dice: Dice, among = places(value)): Json {
  const copy: Json = structuredClone(value);
  const at = dice.pick(among);
  const last = at.at(-1);
  if (last === undefined) return dice.pick(awkward);
  let parent = copy as Record<string | number, Json>;
  for (const key of at.slice(0, -1)) parent = parent[key] as Record<string | number, Json>;
  const kind = dice.below(6);
  if (kind === 0) delete parent[last];
  else if (kind === 1) parent[last] = [parent[last], parent[last]];
  else if (kind === 2) {
    parent[`${last}x`] = parent[last];
    delete parent[last];
  } else if (kind === 3) parent[last] = nested(parent[last], 1 + dice.below(200), dice);
  else parent[last] = dice.pick(awkward);
  return copy;
}

function nested(value: Json, depth: number, dice: Dice): Json {
  let deep = value;
  for (let i = 0; i < depth; i++) deep = dice.random() < 0.5 ? [deep] : { a: deep };
  return deep;
}

/** A text with a part of it cut out, doubled, moved, overwritten or broken off. */
export function spoiledText(text: string, dice: Dice): string {
  const from = dice.below(text.length);
  const to = Math.min(text.length, from + 1 + dice.below(dice.random() < 0.5 ? 3 : 400));
  const part = text.slice(from, to);
  const rest = [text.slice(0, from), text.slice(to)] as const;
  switch (dice.below(6)) {
    case 0:
      return rest.join("");
    case 1:
      return rest.join(part + part);
    case 2:
      return text.slice(0, from);
    case 3:
      return rest.join(
        dice.pick(["{", "}", "[", "]", '"', "\\", ",", ":", "\u0000", "\ufeff", "\ud83d", "1e9", "-", "//"]),
      );
    case 4: {
      const elsewhere = dice.below(rest.join("").length);
      const joined = rest.join("");
      return joined.slice(0, elsewhere) + part + joined.slice(elsewhere);
    }
    default:
      return rest.join(String.fromCharCode(...Array.from(part.slice(0, 20), () => dice.below(0x250))));
  }
}

/** Bytes with some of them changed, cut out, doubled or broken off. */
export function spoiledBytes(bytes: Uint8Array, dice: Dice): Uint8Array {
  const copy = Buffer.from(bytes);
  const from = dice.below(copy.length);
  switch (dice.below(5)) {
    case 0:
      return copy.subarray(0, from);
    case 1:
      return Buffer.concat([copy.subarray(0, from), copy.subarray(from + 1 + dice.below(50))]);
    case 2:
      return Buffer.concat([copy.subarray(0, from), copy.subarray(Math.max(0, from - dice.below(500)))]);
    case 3:
      for (let i = from; i < Math.min(copy.length, from + 1 + dice.below(30)); i++) copy[i] = dice.below(256);
      return copy;
    default:
      copy[from] = (copy[from] ?? 0) ^ (1 << dice.below(8));
      return copy;
  }
}

/** A path that tries to lead out of the page's folder, in one of the spellings that have worked somewhere. */
export function straying(dice: Dice): string {
  const dot = () => dice.pick([".", "%2e", "%2E", "%252e", "%c0%ae", "．", "%u002e"]);
  const slash = () => dice.pick(["/", "%2f", "%2F", "\\", "%5c", "%252f", "//", "/./", "%c0%af", ";/"]);
  const up = Array.from({ length: 1 + dice.below(6) }, () => `${dot()}${dot()}${slash()}`).join("");
  const start = dice.pick([
    "/",
    "/assets/",
    "/api/",
    "/api/examples/",
    "//",
    "/assets/main-Ab12_-9z.js/",
    "/%00/",
    "/file:///",
  ]);
  const end = dice.pick([
    "secret.txt",
    "fairbout.sqlite",
    "etc/passwd",
    "package.json",
    "secret.txt%00.js",
    "c:/windows/win.ini",
    "",
  ]);
  return `${start}${up}${end}`;
}
