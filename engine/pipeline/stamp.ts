import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";

/** The mark that every result wears: which input and settings it came from, by which engine. Inputs are hashed, never results. */
export interface Stamp {
  readonly stage: string;
  readonly inputHash: string;
  readonly settingsHash: string;
  readonly engineVersion: string;
}

export const engineVersion = "0.1.0";

/** Stamp of a stage run on plain data; typed arrays count by their numbers, and the order of keys does not matter. */
export function stamp(stage: string, input: unknown, settings: unknown): Stamp {
  return { stage, inputHash: dataHash(input), settingsHash: dataHash(settings), engineVersion };
}

/** First 16 hexadecimal digits of the SHA-256 (FIPS 180-4) of plain data in a canonical text. */
function dataHash(data: unknown): string {
  return bytesToHex(sha256(new TextEncoder().encode(canonical(data)))).slice(0, 16);
}

function canonical(data: unknown): string {
  if (ArrayBuffer.isView(data)) return `[${Array.from(data as unknown as ArrayLike<number>).join(",")}]`;
  if (Array.isArray(data)) return `[${data.map(canonical).join(",")}]`;
  if (data !== null && typeof data === "object") {
    const entries = Object.entries(data as Record<string, unknown>).filter(
      ([, value]) => value !== undefined,
    );
    entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${entries.map(([key, value]) => `${JSON.stringify(key)}:${canonical(value)}`).join(",")}}`;
  }
  return JSON.stringify(data) ?? "null";
}
