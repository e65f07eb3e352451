import { sha256 } from "@noble/hashes/sha2.js";

/**
 * Plain data with typed arrays as bytes: magic, length of the head, the head as JSON in which every typed array is a place in what
 * follows it, the arrays one after the other, each on a multiple of eight. The head names the engine that computed it and
 * the key it is kept under; a SHA-256 (FIPS 180-4) of head and arrays stands before them.
 */
const magic = "FBRESULT1\n";
/** What an array is called in the head. */
const arrayKinds = {
  f64: Float64Array,
  f32: Float32Array,
  u32: Uint32Array,
  i32: Int32Array,
  u16: Uint16Array,
  u8: Uint8Array,
} as const;
type ArrayName = keyof typeof arrayKinds;
/** Marks in the JSON: an array's place, and a number that JSON has no word for. */
const arrayMark = "$array";
const numberMark = "$number";

interface Head {
  readonly engine: string;
  readonly key: string;
  readonly data: unknown;
}

/** Bytes before the head: magic, its length, the hash of all that follows. */
const prefix = magic.length + 4 + 32;

/** Bytes of plain data: no functions, no classes but typed arrays, no cycles. */
export function encodeResult(value: unknown, engine: string, key: string): Uint8Array<ArrayBuffer> {
  const arrays: ArrayBufferView[] = [];
  let size = 0;
  const told = (v: unknown): unknown => {
    if (typeof v === "number" && !Number.isFinite(v)) return { [numberMark]: String(v) };
    if (v === null || typeof v !== "object") return v;
    if (ArrayBuffer.isView(v)) {
      const place = { [arrayMark]: [nameOf(v), size, (v as Float64Array).length] };
      arrays.push(v);
      size += aligned(v.byteLength);
      return place;
    }
    if (Array.isArray(v)) return v.map(told);
    return Object.fromEntries(Object.entries(v).map(([name, entry]) => [name, told(entry)]));
  };
  const data = told(value);
  const body = new Uint8Array(size);
  let at = 0;
  for (const array of arrays) {
    body.set(new Uint8Array(array.buffer, array.byteOffset, array.byteLength), at);
    at += aligned(array.byteLength);
  }
  const head = new TextEncoder().encode(JSON.stringify({ engine, key, data } satisfies Head));
  const start = aligned(prefix + head.length);
  const out = new Uint8Array(start + size);
  out.set(new TextEncoder().encode(magic));
  new DataView(out.buffer).setUint32(magic.length, head.length, true);
  out.set(head, prefix);
  out.set(body, start);
  out.set(sha256(out.subarray(prefix)), magic.length + 4);
  return out;
}

/** What the bytes hold; null: they are broken, or another engine's, or kept under another key. */
export function decodeResult(bytes: Uint8Array<ArrayBuffer>, engine: string, key: string): unknown {
  try {
    if (bytes.length < prefix || new TextDecoder().decode(bytes.subarray(0, magic.length)) !== magic)
      return null;
    const length = new DataView(bytes.buffer, bytes.byteOffset).getUint32(magic.length, true);
    const start = aligned(prefix + length);
    if (start > bytes.length) return null;
    const hash = sha256(bytes.subarray(prefix));
    if (hash.some((byte, k) => byte !== bytes[magic.length + 4 + k])) return null;
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes.subarray(prefix, prefix + length));
    const head = JSON.parse(text) as Head;
    if (head.engine !== engine || head.key !== key) return null;
    return read(head.data, bytes.slice(start).buffer);
  } catch {
    return null;
  }
}

function read(v: unknown, body: ArrayBuffer): unknown {
  if (v === null || typeof v !== "object") return v;
  if (Array.isArray(v)) return v.map((entry) => read(entry, body));
  const record = v as Readonly<Record<string, unknown>>;
  if (arrayMark in record) {
    const [name, offset, length] = record[arrayMark] as [ArrayName, number, number];
    return new arrayKinds[name](body, offset, length).slice();
  }
  if (numberMark in record) return Number(record[numberMark]);
  return Object.fromEntries(Object.entries(record).map(([name, entry]) => [name, read(entry, body)]));
}

function nameOf(array: ArrayBufferView): ArrayName {
  for (const [name, kind] of Object.entries(arrayKinds)) if (array instanceof kind) return name as ArrayName;
  throw new Error("an array of this kind has no name in a result's head");
}

const aligned = (bytes: number): number => Math.ceil(bytes / 8) * 8;
