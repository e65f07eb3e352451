import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isKeptLoad, isKeptVoice } from "./keptResults.ts";
import { decodeResult, encodeResult } from "./resultCodec.ts";

const sample = {
  name: "a guitar",
  none: null,
  count: 3,
  odd: [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0.1, -1e-300],
  shapes: Float64Array.of(1 / 3, Number.NaN, -0),
  small: { f: Float32Array.of(0.1), u: Uint32Array.of(1, 2, 3), b: Uint8Array.of(255), i: Int32Array.of(-1) },
  part: new Float64Array([9, 8, 7, 6]).subarray(1, 3),
  rows: [{ t: true, list: new Float64Array(0) }],
};

describe("a kept result", () => {
  it("comes back as it was, arrays in their own memory", () => {
    const back = decodeResult(encodeResult(sample, "engine 1", "voice-1"), "engine 1", "voice-1");
    expect(back).toEqual(sample);
    const { part } = back as typeof sample;
    expect(part.buffer.byteLength).toBe(16);
  });

  it("comes back as it was, whatever plain data it holds", () => {
    const leaf = fc.oneof(
      fc.double(),
      fc.string(),
      fc.boolean(),
      fc.constant(null),
      fc.float64Array(),
      fc.float32Array(),
      fc.uint32Array(),
      fc.uint8Array(),
    );
    const key = fc.string().filter((k) => !k.startsWith("$") && k !== "__proto__");
    const tree = fc.letrec((tie) => ({
      node: fc.oneof(
        { maxDepth: 4 },
        leaf,
        fc.array(tie("node"), { maxLength: 4 }),
        fc.dictionary(key, tie("node"), { maxKeys: 4, noNullPrototype: true }),
      ),
    })).node;
    fc.assert(
      fc.property(tree, (value) => {
        const plain = decodeResult(encodeResult(value, "e", "k"), "e", "k");
        expect(plain).toEqual(zeroed(value));
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it("of another engine or under another key is none", () => {
    const bytes = encodeResult(sample, "engine 1", "voice-1");
    expect(decodeResult(bytes, "engine 2", "voice-1")).toBeNull();
    expect(decodeResult(bytes, "engine 1", "voice-2")).toBeNull();
  });

  it("is none when any byte of it was changed that matters, or when it was cut", () => {
    const bytes = encodeResult(sample, "engine 1", "voice-1");
    let noticed = 0;
    for (let at = 0; at < bytes.length; at++) {
      const broken = bytes.slice();
      broken[at] = broken[at]! ^ 0x11;
      const read = decodeResult(broken, "engine 1", "voice-1");
      if (read === null) noticed++;
      // padding between head and arrays is read by nobody
      else expect(read).toEqual(sample);
    }
    expect(noticed).toBeGreaterThan(bytes.length - 8);
    for (const length of [0, 5, 14, 40, bytes.length - 1])
      expect(decodeResult(bytes.slice(0, length), "engine 1", "voice-1")).toBeNull();
    expect(decodeResult(new TextEncoder().encode("<!doctype html>"), "engine 1", "voice-1")).toBeNull();
  });

  it("of another shape is no voice and no load", () => {
    for (const foreign of [
      null,
      1,
      "x",
      [],
      {},
      sample,
      { picture: {}, sound: {} },
      { report: {}, view: {} },
    ]) {
      expect(isKeptVoice(foreign)).toBe(false);
      expect(isKeptLoad(foreign)).toBe(false);
    }
  });
});

/** JSON has no negative zero outside arrays. */
function zeroed(value: unknown): unknown {
  if (typeof value === "number") return value === 0 ? 0 : value;
  if (value === null || typeof value !== "object" || ArrayBuffer.isView(value)) return value;
  if (Array.isArray(value)) return value.map(zeroed);
  return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, zeroed(entry)]));
}
