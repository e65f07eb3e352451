import { describe, expect, it } from "vitest";
import { wavBytes } from "./wavBytes.ts";

/** Reads a WAV file chunk by chunk as its specification lays it out (RIFF-WAVE, from memory). */
function parsed(bytes: Uint8Array) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const word = (at: number) => String.fromCharCode(...bytes.subarray(at, at + 4));
  expect(word(0)).toBe("RIFF");
  expect(view.getUint32(4, true)).toBe(bytes.length - 8);
  expect(word(8)).toBe("WAVE");
  const chunks = new Map<string, DataView>();
  let at = 12;
  while (at < bytes.length) {
    const size = view.getUint32(at + 4, true);
    expect(at + 8 + size).toBeLessThanOrEqual(bytes.length);
    chunks.set(word(at), new DataView(bytes.buffer, bytes.byteOffset + at + 8, size));
    // chunks begin at even places
    at += 8 + size + (size % 2);
  }
  expect(at).toBe(bytes.length);
  const fmt = chunks.get("fmt ")!;
  return {
    order: [...chunks.keys()],
    tag: fmt.getUint16(0, true),
    channels: fmt.getUint16(2, true),
    rate: fmt.getUint32(4, true),
    bytesPerSecond: fmt.getUint32(8, true),
    blockAlign: fmt.getUint16(12, true),
    bits: fmt.getUint16(14, true),
    fmtSize: fmt.byteLength,
    fact: chunks.get("fact"),
    data: chunks.get("data")!,
  };
}

const samples = Float32Array.of(0, 0.5, -0.5, 1, -1, 1.5, -1.5, 1e-6);

describe("a WAV file", () => {
  it("of 16 bits is plain PCM of one channel, and clips beyond full scale", () => {
    const file = parsed(wavBytes(samples, 48000, "pcm16"));
    expect(file).toMatchObject({ tag: 1, channels: 1, rate: 48000, bytesPerSecond: 96000, blockAlign: 2 });
    expect(file).toMatchObject({ bits: 16, fmtSize: 16, order: ["fmt ", "data"] });
    expect(file.data.byteLength).toBe(2 * samples.length);
    const read = Array.from(samples, (_, i) => file.data.getInt16(2 * i, true));
    expect(read).toEqual([0, 16384, -16383, 32767, -32767, 32767, -32768, 0]);
  });

  it("of floats keeps every sample, tells their number in a fact chunk and the format 3", () => {
    const file = parsed(wavBytes(samples, 44100, "float32"));
    expect(file).toMatchObject({ tag: 3, channels: 1, rate: 44100, bytesPerSecond: 176400, blockAlign: 4 });
    expect(file).toMatchObject({ bits: 32, fmtSize: 18, order: ["fmt ", "fact", "data"] });
    expect(file.fact!.getUint32(0, true)).toBe(samples.length);
    expect(Array.from(samples, (_, i) => file.data.getFloat32(4 * i, true))).toEqual(Array.from(samples));
  });

  it("may be empty", () => {
    expect(parsed(wavBytes(new Float32Array(0), 48000, "pcm16")).data.byteLength).toBe(0);
  });
});
