import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { type Context, opened, quiet } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { alone } from "../crew.ts";
import { instrumentGeometry } from "../geometry.ts";
import type { Stages } from "../stages.ts";
import { stringSet } from "../stringSet.ts";
import { computeVoice, voiceReport } from "../voice.ts";
import { coarseBody } from "./coarseBody.fixture.ts";
import { stageJobs } from "./jobs.ts";

const text = readFileSync(new URL("../../../examples/cross-braced.fairbout.json", import.meta.url), "utf8");

it("a voice called off in any stage ends as cancelled, and the next run is as if nothing had been", async () => {
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error("the example is at fault");
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  const strings = opened(stringSet(build));
  const voice = (ctx: (title: string) => Context) => {
    const stages: Stages = { stage: (title) => ({ ...ctx(title), kernels: wasmKernels }) };
    return computeVoice(build, geometry, strings, alone(stageJobs), coarseBody, stages);
  };
  const seen: string[] = [];
  const undisturbed = await voice((title) => {
    if (!seen.includes(title)) seen.push(title);
    return quiet;
  });
  expect(seen.length).toBeGreaterThan(3);
  for (const stage of seen) {
    let asked = 0;
    const calledOff = await voice((title) => ({
      ...quiet,
      cancelled: () => title === stage && ++asked > 0,
    }));
    // a stage of some milliseconds may not ask
    if (asked === 0) continue;
    expect([stage, calledOff.ok, calledOff.ok || calledOff.reason]).toEqual([stage, false, "cancelled"]);
  }
  const again = await voice(() => quiet);
  expect(voiceReport(opened(again))).toEqual(voiceReport(opened(undisturbed)));
});
