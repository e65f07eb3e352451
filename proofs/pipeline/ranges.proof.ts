/** Ranges of example A on a coarse mesh, held against the whole computation and against themselves. */
import { beforeAll, describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import {
  computeVoice,
  differenceRanges,
  type LiveModel,
  prepareLive,
  type Voice,
  type VoiceSamples,
  voiceRanges,
  voiceSamples,
} from "#engine/pipeline";
import { changedBuild } from "../../engine/pipeline/live/changedBuild.ts";
import { coarse, coarseVoice, crew, fast } from "./coarseBody.ts";
import { openExample } from "./openExample.ts";

const ctx = fast.stage("", 0, 1);
const example = openExample("low-radial");
const options = { seed: 7, modeSamples: 32, boardSamples: 8, toHz: 700 };

describe("every uncertain value of the three examples", () => {
  for (const name of ["low-radial", "cross-braced", "small-ladder"]) {
    it(`has its place in the build: ${name}`, () => {
      const { build } = openExample(name);
      const lost = build.uncertain.filter(({ path }) => changedBuild(build, path, 1.01) === null);
      expect(lost.map(({ path }) => path)).toEqual([]);
    });
  }
});

describe("ranges of example A", () => {
  let voice: Voice;
  let live: LiveModel;
  let samples: VoiceSamples;
  beforeAll(async () => {
    voice = await coarseVoice(example);
    live = opened(prepareLive({ ...example, settings: coarse, body: voice.body, board: voice.board }, ctx));
    samples = opened(voiceSamples(live, example.build.uncertain, voice.knowledge, ctx, options));
  }, 400_000);

  it("follow every value that has a spread", () => {
    expect(samples.left).toEqual([]);
    expect(samples.followed).toHaveLength(example.build.uncertain.length);
  });

  it("foretell the coupled frequencies of a changed instrument by the exact sensitivities", async () => {
    for (const path of ["top.wood.stiffnessAlong", "neck.mass"]) {
      const at = samples.followed.findIndex((v) => v.path === path);
      const step = 0.01;
      const full = [1 - step, 1 + step].map(async (factor) => {
        const { build } = changedBuild(example.build, path, factor)!;
        return opened(await computeVoice(build, example.geometry, example.strings, crew, coarse, fast));
      });
      const [low, high] = (await Promise.all(full)).map((v) => v.body.response.frequency);
      let largest = 0;
      for (let i = 0; i < 20; i++) {
        const wanted = Math.log(high![i]! / low![i]!) / (2 * step);
        const found = samples.sensitivity[at * samples.modes + i]!;
        largest = Math.max(largest, Math.abs(wanted));
        expect(Math.abs(found - wanted), `${path}, mode ${i + 1}`).toBeLessThan(0.01);
      }
      expect(largest).toBeGreaterThan(0.05);
    }
  }, 400_000);

  it("are as wide as the sensitivities add up to, value by value", () => {
    const { ranges } = voiceRanges(samples);
    for (const [of, i] of [
      ["main air", voice.body.response.name.indexOf("main air")],
      ["main top", voice.body.response.name.indexOf("main top")],
    ] as const) {
      const linear = Math.sqrt(
        samples.followed.reduce(
          (sum, { value, spread }, p) =>
            sum + ((samples.sensitivity[p * samples.modes + i]! * spread) / value) ** 2,
          0,
        ),
      );
      const range = ranges.find((r) => r.kind === "frequencyHz" && r.of === of)!;
      expect(range.woodSigma / range.value / linear).toBeGreaterThan(0.6);
      expect(range.woodSigma / range.value / linear).toBeLessThan(1.5);
      expect(range.sigma).toBeCloseTo(Math.hypot(range.woodSigma, range.modelSigma), 12);
      expect(range.low).toBeLessThan(range.value);
      expect(range.high).toBeGreaterThan(range.value);
    }
  });

  it("name measurements whose shares add up to one, by their paths", () => {
    const { worth } = voiceRanges(samples);
    expect(worth.reduce((sum, w) => sum + w.share, 0)).toBeCloseTo(1, 9);
    expect(worth[0]!.words).toContain(worth[0]!.path);
    expect(worth[0]!.share).toBeGreaterThan(0.1);
  });

  it("are repeated by the same seed, and a design differs from itself by nothing", () => {
    const again = opened(voiceSamples(live, example.build.uncertain, voice.knowledge, ctx, options));
    for (const d of differenceRanges(samples, again)) {
      expect(d.difference).toBe(0);
      expect(d.woodSigma).toBe(0);
    }
  });

  it("differ from themselves under samples of their own: that is what sharing them spares", () => {
    const other = opened(
      voiceSamples(live, example.build.uncertain, voice.knowledge, ctx, { ...options, seed: 8 }),
    );
    const apart = differenceRanges(samples, other).find(
      (d) => d.of === "main top" && d.kind === "frequencyHz",
    )!;
    expect(apart.woodSigma).toBeGreaterThan(0);
  });
});
