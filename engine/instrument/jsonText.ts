/**
 * Reads JSON (RFC 8259) strictly and remembers where every value stands, so that a fault can name its line. Refuses what
 * the built-in reader lets pass in silence: a key given twice, numbers beyond double precision, nesting without end.
 */

export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

export type JsonReading =
  | {
      readonly ok: true;
      readonly value: unknown;
      readonly placeOf: (path: readonly PropertyKey[]) => TextPlace | null;
    }
  | { readonly ok: false; readonly message: string; readonly place: TextPlace };

const deepest = 64;
/** More values than this are no instrument; the reading stops there, so that it takes a bounded time. */
const mostValues = 1e6;

/** Offset of each value: by key in an object, by index in an array. */
type Starts = WeakMap<object, Map<string, number> | number[]>;

class Fault extends Error {
  readonly offset: number;
  constructor(message: string, offset: number) {
    super(message);
    this.offset = offset;
  }
}

/** Parses the whole text as one JSON value. */
export function readJson(text: string): JsonReading {
  const starts: Starts = new WeakMap();
  try {
    const value = parse(text, starts);
    return { ok: true, value, placeOf: (path) => placeOf(text, value, starts, path) };
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    return { ok: false, message: error.message, place: lineAndColumn(text, error.offset) };
  }
}

function placeOf(
  text: string,
  value: unknown,
  starts: Starts,
  path: readonly PropertyKey[],
): TextPlace | null {
  let at = value;
  let offset = text.search(/\S/);
  for (const key of path) {
    if (typeof at !== "object" || at === null) break;
    const places = starts.get(at);
    const next = Array.isArray(places) ? places[Number(key)] : places?.get(String(key));
    if (next === undefined) break;
    offset = next;
    at = (at as Record<PropertyKey, unknown>)[key];
  }
  return offset < 0 ? null : lineAndColumn(text, offset);
}

function lineAndColumn(text: string, offset: number): TextPlace {
  let line = 1;
  let lineStart = 0;
  for (let i = text.indexOf("\n"); i >= 0 && i < offset; i = text.indexOf("\n", i + 1)) {
    line++;
    lineStart = i + 1;
  }
  return { line, column: offset - lineStart + 1 };
}

function parse(text: string, starts: Starts): unknown {
  let i = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  let values = 0;

  const skip = (): void => {
    for (;;) {
      const c = text.charCodeAt(i);
      if (c !== 32 && c !== 10 && c !== 13 && c !== 9) return;
      i++;
    }
  };
  const seen = (): string => {
    if (i >= text.length) return "the end of the text";
    const character = String.fromCodePoint(text.codePointAt(i) ?? 0);
    return JSON.stringify(character);
  };

  const readString = (): string => {
    const start = i;
    i++;
    for (;;) {
      const c = text.charCodeAt(i);
      if (Number.isNaN(c)) throw new Fault("This text in quotes is never closed.", start);
      if (c === 34) break;
      if (c < 32) throw new Fault("A line ends inside a text in quotes: is the closing quote missing?", i);
      i += c === 92 ? 2 : 1;
    }
    i++;
    try {
      return JSON.parse(text.slice(start, i)) as string;
    } catch {
      throw new Fault("This text in quotes holds a backslash sequence that JSON does not know.", start);
    }
  };

  const readNumber = (): number => {
    const pattern = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
    pattern.lastIndex = i;
    const match = pattern.exec(text);
    if (match === null) throw new Fault(`A value is expected here, but ${seen()} was found.`, i);
    const after = text[i + match[0].length];
    if (after !== undefined && /[\w.+-]/.test(after)) {
      throw new Fault(
        `"${/^[\w.,+-]*/.exec(text.slice(i, i + 40))?.[0]}" is not a number as JSON writes it. A quantity is a text in quotes with its unit: "2.8 mm".`,
        i,
      );
    }
    const value = Number(match[0]);
    if (!Number.isFinite(value)) throw new Fault(`${match[0].slice(0, 40)} is too large a number.`, i);
    i += match[0].length;
    return value;
  };

  const readWord = (): unknown => {
    const found = /^[A-Za-z_]+/.exec(text.slice(i, i + 40))?.[0] ?? "";
    if (found === "true" || found === "false" || found === "null") {
      i += found.length;
      return found === "true" ? true : found === "false" ? false : null;
    }
    if (found === "NaN" || found === "Infinity")
      throw new Fault(`${found} is not a number that can be used.`, i);
    throw new Fault(
      `A value is expected here, but ${found === "" ? seen() : `"${found}"`} was found; texts stand in double quotes.`,
      i,
    );
  };

  const readValue = (depth: number): unknown => {
    if (depth > deepest) throw new Fault(`Brackets are nested more than ${deepest} deep.`, i);
    if (++values > mostValues)
      throw new Fault(
        `There are more than ${mostValues} values before this place: no instrument has so many.`,
        i,
      );
    skip();
    const c = text[i];
    if (c === '"') return readString();
    if (c === "{") return readObject(depth);
    if (c === "[") return readArray(depth);
    if (c === "-" || c === "." || c === "+" || (c !== undefined && c >= "0" && c <= "9")) {
      if (text.startsWith("-Infinity", i)) throw new Fault("-Infinity is not a number that can be used.", i);
      return readNumber();
    }
    return readWord();
  };

  const readObject = (depth: number): Record<string, unknown> => {
    const start = i;
    const value: Record<string, unknown> = {};
    const places = new Map<string, number>();
    starts.set(value, places);
    i++;
    skip();
    if (text[i] === "}") {
      i++;
      return value;
    }
    for (;;) {
      skip();
      const keyAt = i;
      if (i >= text.length) throw new Fault("This curly bracket is never closed.", start);
      if (text[i] === "}") throw new Fault("There is a comma too many before this curly bracket.", i);
      if (text[i] !== '"')
        throw new Fault(`A key in double quotes is expected here, but ${seen()} was found.`, i);
      const key = readString();
      if (places.has(key))
        throw new Fault(`The key "${key.slice(0, 60)}" is given twice in the same place.`, keyAt);
      skip();
      if (text[i] !== ":")
        throw new Fault(
          `A colon is expected after the key "${key.slice(0, 60)}", but ${seen()} was found.`,
          i,
        );
      i++;
      skip();
      places.set(key, i);
      // defineProperty, so that a key like "__proto__" is an ordinary (and then an unknown) key.
      Object.defineProperty(value, key, {
        value: readValue(depth + 1),
        enumerable: true,
        writable: true,
        configurable: true,
      });
      skip();
      if (text[i] === ",") i++;
      else if (text[i] === "}") {
        i++;
        return value;
      } else
        throw new Fault(
          i >= text.length
            ? "This curly bracket is never closed."
            : `A comma or a closing curly bracket is expected here, but ${seen()} was found.`,
          i >= text.length ? start : i,
        );
    }
  };

  const readArray = (depth: number): unknown[] => {
    const start = i;
    const value: unknown[] = [];
    const places: number[] = [];
    starts.set(value, places);
    i++;
    skip();
    if (text[i] === "]") {
      i++;
      return value;
    }
    for (;;) {
      skip();
      if (text[i] === "]") throw new Fault("There is a comma too many before this bracket.", i);
      places.push(i);
      value.push(readValue(depth + 1));
      skip();
      if (text[i] === ",") i++;
      else if (text[i] === "]") {
        i++;
        return value;
      } else
        throw new Fault(
          i >= text.length
            ? "This bracket is never closed."
            : `A comma or a closing bracket is expected here, but ${seen()} was found.`,
          i >= text.length ? start : i,
        );
    }
  };

  const value = readValue(0);
  skip();
  if (i < text.length)
    throw new Fault(`The document is complete before this place, but ${seen()} follows.`, i);
  return value;
}
