/** Calling off the main job between workers: it ends as cancelled, and the same crew then does it as one hand alone does. */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened, quiet } from "#engine/numerics";
import {
  alone,
  type Crew,
  computeVoice,
  defaultBodySettings,
  instrumentGeometry,
  stageJobs,
  stringSet,
  voiceReport,
} from "#engine/pipeline";
import { wasmKernels } from "#kernels";
import { nodeCrew } from "./nodeWorkers.ts";

/** As coarse as still makes a body. */
const coarse = {
  ...defaultBodySettings,
  meshSize: { top: 0.03, back: 0.03, side: 0.04 },
  toFrequency: 400,
  cavity: { toFrequency: 800, size: 0.08, layers: 2 },
  exteriorPanels: 260,
  exteriorFrequencies: 4,
};

it("two workers called off in the middle of a voice are ready for the next", async () => {
  const text = readFileSync(new URL("../../examples/cross-braced.fairbout.json", import.meta.url), "utf8");
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error("the example is at fault");
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  const strings = opened(stringSet(build));
  const ctx = { ...quiet, kernels: wasmKernels };
  const voice = (crew: Crew<typeof stageJobs>, stop: (title: string) => boolean) =>
    computeVoice(build, geometry, strings, crew, coarse, {
      stage: (title) => ({ ...ctx, cancelled: () => stop(title) }),
    });
  const crew = nodeCrew<typeof stageJobs>(2);
  try {
    for (const stage of ["meshes and matrices", "modes of the body"]) {
      const calledOff = await voice(crew, (title) => title === stage);
      expect([stage, calledOff.ok || calledOff.reason]).toEqual([stage, "cancelled"]);
    }
    const after = opened(await voice(crew, () => false));
    const single = opened(await voice(alone(stageJobs), () => false));
    // the outer air warns once for each share of its frequencies, so by the number of hands
    const told = (voice: typeof after) => ({ ...voiceReport(voice), warnings: [] });
    expect(told(after)).toEqual(told(single));
  } finally {
    crew.close();
  }
});
