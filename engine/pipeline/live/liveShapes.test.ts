import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened, quiet } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { coarseBody } from "../body/coarseBody.fixture.ts";
import { stageJobs } from "../body/jobs.ts";
import { alone } from "../crew.ts";
import { instrumentGeometry } from "../geometry.ts";
import { stringSet } from "../stringSet.ts";
import { computeVoice } from "../voice.ts";
import { changedBuild } from "./changedBuild.ts";
import { liveParameters } from "./liveParameters.ts";
import { liveShapes, type PlateMotion } from "./liveShapes.ts";
import { prepareLive } from "./prepareLive.ts";

const modes = 6;

/** Square of the correlation of one mode's motion over both plates with another's: 1 for the same shape. */
function alike(a: PlateMotion, b: PlateMotion, mode: number): number {
  let [aa, ab, bb] = [0, 0, 0];
  for (const plate of ["top", "back"] as const) {
    const nodes = a[plate].length / a.count;
    for (let k = mode * nodes; k < (mode + 1) * nodes; k++) {
      const [x, y] = [a[plate][k]!, b[plate][k]!];
      aa += x * x;
      ab += x * y;
      bb += y * y;
    }
  }
  return ab ** 2 / (aa * bb);
}

it("the shapes of a live edit are those of the voice, and of the changed instrument's voice after a change", async () => {
  const ctx = { ...quiet, kernels: wasmKernels };
  const text = readFileSync(new URL("../../../examples/cross-braced.fairbout.json", import.meta.url), "utf8");
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error("the example is at fault");
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  const strings = opened(stringSet(build));
  const voiceOf = async (of: typeof build) =>
    opened(await computeVoice(of, geometry, strings, alone(stageJobs), coarseBody, { stage: () => ctx }));
  const shapesOf = ({ body: { response } }: Awaited<ReturnType<typeof voiceOf>>): PlateMotion => ({
    count: response.drawnCount,
    top: response.topMotion,
    back: response.backMotion,
  });
  const voice = await voiceOf(build);
  const parameter = "top.thickness";
  const model = opened(
    prepareLive(
      { build, geometry, strings, settings: coarseBody, body: voice.body, board: voice.board },
      ctx,
      liveParameters(build).filter(({ id }) => id === parameter),
    ),
  );
  const likeness = (a: PlateMotion, b: PlateMotion): number =>
    Math.min(...Array.from({ length: modes }, (_, i) => alike(a, b, i)));
  const still = opened(liveShapes(model, [], ctx));
  expect(likeness(still, shapesOf(voice))).toBeGreaterThan(0.9999);
  const factor = 0.8;
  const moved = opened(liveShapes(model, [{ parameter, factor }], ctx));
  const full = shapesOf(await voiceOf(changedBuild(build, parameter, factor)!.build));
  expect(likeness(moved, full)).toBeGreaterThan(0.99);
  expect(likeness(still, full)).toBeLessThan(0.97);
});
