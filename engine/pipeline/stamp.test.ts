import { expect, it } from "vitest";
import { stamp } from "./stamp.ts";

it("stamps the same data alike, whatever the order of its keys", () => {
  const a = stamp("voice", { x: 1, y: { b: [1, 2], a: null } }, { n: 5 });
  const b = stamp("voice", { y: { a: null, b: [1, 2] }, x: 1 }, { n: 5 });
  expect(b).toEqual(a);
  expect(a.inputHash).toMatch(/^[0-9a-f]{16}$/);
});

it("tells apart data that differ in one number, one key or one string", () => {
  const hash = (input: unknown) => stamp("voice", input, {}).inputHash;
  const all = [
    { x: Float64Array.of(1, 2) },
    { x: Float64Array.of(1, 2.0000000000000004) },
    { x: "1,2" },
    { y: Float64Array.of(1, 2) },
    { x: Float64Array.of(1, 2), y: 0 },
  ].map(hash);
  expect(new Set(all).size).toBe(all.length);
});

it("hashes as SHA-256 does (FIPS 180-4: the empty string's digest begins e3b0c442; here the text is two quotes)", async () => {
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode('""'));
  const hex = Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
  expect(stamp("voice", "", {}).inputHash).toBe(hex.slice(0, 16));
});
