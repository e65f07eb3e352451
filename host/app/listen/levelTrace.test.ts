import { expect, it } from "vitest";
import { levelTraces } from "./levelTrace.ts";
import { soundFileName } from "./soundFileName.ts";

it("a sound that falls 20 dB in a second is drawn so, and a quieter one below it on the same scale", () => {
  const rate = 8000;
  const sound = (size: number) =>
    Float32Array.from({ length: 2 * rate }, (_, i) => size * 10 ** (-i / rate) * Math.sin(0.7 * i));
  const [a, b] = levelTraces([sound(0.5), sound(0.05)], rate);
  expect(a!.levelDb[0]).toBe(0);
  const second = Math.round(1 / a!.step);
  expect(a!.levelDb[second]).toBeCloseTo(-20, 1);
  expect(b!.levelDb[second]).toBeCloseTo(-40, 1);
});

it("silence is silence", () => {
  expect(
    levelTraces([new Float32Array(4000)], 8000)[0]!.levelDb.every((x) => x === Number.NEGATIVE_INFINITY),
  ).toBe(true);
});

it("a file's name is one that every file system takes", () => {
  expect(soundFileName(["Nº 7: “Köln”", "string 6 fret 0"])).toBe("no-7-koln-string-6-fret-0.wav");
  expect(soundFileName(["../..", "F#3"])).toBe("f-sharp-3.wav");
  expect(soundFileName(["///"])).toBe("sound.wav");
});
