import { opened, quiet } from "#engine/numerics";
import {
  alone,
  type BodySettings,
  computeVoice,
  defaultBodySettings,
  type Stages,
  stageJobs,
} from "#engine/pipeline";
import { wasmKernels } from "#kernels";
import type { openExample } from "./openExample.ts";

/** About 2,200 shell nodes: what the shape of a result asks for, and no more. */
export const coarse: BodySettings = {
  ...defaultBodySettings,
  meshSize: { top: 0.0165, back: 0.0165, side: 0.028 },
  exteriorPanels: 350,
  exteriorFrequencies: 7,
  cavity: { toFrequency: 2000, size: 0.06, layers: 2 },
};

/** Stages that nobody watches, with the fast kernels. */
export const fast: Stages = { stage: () => ({ ...quiet, kernels: wasmKernels }) };

export const crew = alone(stageJobs);

/** The voice of an open example on the coarse mesh. */
export const coarseVoice = async ({ build, geometry, strings }: ReturnType<typeof openExample>) =>
  opened(await computeVoice(build, geometry, strings, crew, coarse, fast));
