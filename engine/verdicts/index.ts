/** Verdicts: what was computed on the design against its limits, one verdict a file, and what a reason can excuse. */
export { frequencySigma, honestAccuracy, type Knowledge } from "./accuracy.ts";
export { bridgeRotation } from "./bridgeRotation.ts";
export { evenness } from "./evenness.ts";
export { type CurveFairness, fairness } from "./fairness.ts";
export { mainModePlacing, type PlayedNote } from "./mainModePlacing.ts";
export { saddleFit } from "./saddleFit.ts";
export {
  centsBetween,
  nearestNote,
  sayAngle,
  sayForce,
  sayFrequency,
  sayList,
  sayPitch,
} from "./say.ts";
export { stringStrength } from "./stringStrength.ts";
export { totalLoad } from "./totalLoad.ts";
export {
  exitStatus,
  type Level,
  markMeant,
  type Verdict,
} from "./verdict.ts";
export { wolfRisk } from "./wolfRisk.ts";
