import { describe, expect, it } from "vitest";
import { commonGain, loudest, loudnessLimits } from "./commonGain.ts";

const rate = 1000;
const sine = (amplitude: number, seconds = 2) =>
  Float32Array.from({ length: seconds * rate }, (_, i) => amplitude * Math.sin(0.37 * i));

describe("the gain that several renderings share", () => {
  it("is that of the stated full scale while all are quiet", () => {
    const { gain, reducedDb } = commonGain([sine(0.05), sine(0.01)], rate);
    expect(gain).toBe(1 / loudnessLimits.fullScale);
    expect(reducedDb).toBe(0);
  });

  it("is set by the loudest, whichever it is, and is the same for the quiet one", () => {
    const both = commonGain([sine(0.02), sine(4)], rate);
    expect(both).toEqual(commonGain([sine(4), sine(0.02)], rate));
    expect(both).toEqual(commonGain([sine(4)], rate));
    expect(both.reducedDb).toBeGreaterThan(0);
  });

  it("keeps a short peak and a steady tone within their limits, whatever their size", () => {
    for (const size of [1e-3, 1, 30, 1e6]) {
      const click = new Float32Array(2 * rate);
      click[700] = size;
      for (const samples of [click, sine(size)]) {
        const { gain } = commonGain([samples], rate);
        const { peak, rms } = loudest(
          samples.map((x) => gain * x),
          0.3 * rate,
        );
        expect(20 * Math.log10(peak)).toBeLessThan(loudnessLimits.peakDb + 1e-6);
        expect(20 * Math.log10(rms)).toBeLessThan(loudnessLimits.rmsDb + 1e-4);
      }
    }
  });

  it("does not mind silence", () => {
    expect(commonGain([new Float32Array(10)], rate).reducedDb).toBe(0);
  });
});

describe("the loudest stretch", () => {
  it("is found where it is", () => {
    const samples = new Float32Array(1000);
    samples.fill(0.5, 400, 500);
    expect(loudest(samples, 100).rms).toBeCloseTo(0.5, 6);
    expect(loudest(samples, 400).rms).toBeCloseTo(0.25, 6);
    expect(loudest(samples.subarray(400, 450), 100).rms).toBeCloseTo(0.5, 6);
  });
});
