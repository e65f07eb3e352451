/** The play verb from the command line: refusals before any work, and a WAV file at a stated full scale. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { answerTo } from "./program.ts";

const ladder = join(import.meta.dirname, "..", "..", "examples", "small-ladder.fairbout.json");
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "fairbout-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe("fairbout play", () => {
  it.each([
    [[], "Say what to play", "--note NAME"],
    [["--scale", "--chord"], "one thing", "--phrase"],
    [["--note", "E2"], "No loudspeaker is used", "--out note.wav"],
    [["--note", "E2", "--out", "note.mp3"], "must end in .wav", "--out note.wav"],
    [["--note", "H2", "--out", "a.wav"], "not a note", "H2"],
    [["--note", "C2", "--out", "a.wav"], "no C2 on its board", "string 6 from E2"],
    [["--string", "7", "--out", "a.wav"], "no such string", "1 to 6"],
    [["--string", "6", "--fret", "20", "--out", "a.wav"], "no such fret", "0 to 19"],
    [["--fret", "2", "--out", "a.wav"], "no such string", "1 to 6"],
  ])("refuses %j in words, and writes nothing", async (words, said, told) => {
    const placed = words.map((word) => (word.endsWith("a.wav") ? join(folder, word) : word));
    const { status, out, err } = await answerTo(["play", ladder, ...placed]);
    expect(status).toBe(2);
    expect(out).toBe("");
    expect(err).toContain(said);
    expect(err).toContain(told);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("writes a note as floats whose mean square is the level told", async () => {
    const file = join(folder, "e2.wav");
    const { status, out } = await answerTo([
      "play",
      ladder,
      "--note",
      "E2",
      "--float",
      "--json",
      "--out",
      file,
    ]);
    expect(status).toBe(0);
    const told = JSON.parse(out);
    expect(told).toMatchObject({ piece: "note", rate: 48000, format: "32-bit float", gainReducedDb: 0 });
    expect(told.promise).toContain("difference between two designs");
    const [{ notes, peakDb, loudestDb }] = told.files;
    expect(notes).toMatchObject([{ string: 6, fret: 0, note: "E2" }]);
    expect(notes[0].partials).toBeGreaterThan(8);
    expect(peakDb).toBeLessThan(-3);
    expect(existsSync(file)).toBe(true);
    const bytes = readFileSync(file);
    const samples = new Float32Array(new Uint8Array(bytes.subarray(58)).buffer);
    expect(samples).toHaveLength(4 * 48000);
    const first = samples.subarray(0, 0.3 * 48000);
    const square = first.reduce((sum, x) => sum + (x * told.fullScalePa) ** 2, 0) / first.length;
    expect(Math.abs(10 * Math.log10(square / 20e-6 ** 2) - notes[0].levelDb)).toBeLessThan(0.1);
    expect(Math.abs(10 * Math.log10(square / told.fullScalePa ** 2) - loudestDb)).toBeLessThan(0.5);
  }, 300_000);
});
