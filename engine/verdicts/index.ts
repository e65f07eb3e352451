/** Verdicts: what was computed on the design against its limits, one verdict a file, and what a reason can excuse. */
export { frequencySigma, honestAccuracy, type Knowledge } from "./accuracy.ts";
export { action } from "./action.ts";
export { breakAngle } from "./breakAngle.ts";
export { bridgeRotation } from "./bridgeRotation.ts";
export { type BuzzFigures, buzz, type NearestNote } from "./buzz.ts";
export { evenness } from "./evenness.ts";
export { type CurveFairness, fairness } from "./fairness.ts";
export { mainModePlacing, type PlayedNote } from "./mainModePlacing.ts";
export { reach } from "./reach.ts";
export { saddleFit } from "./saddleFit.ts";
export { saddleHeight } from "./saddleHeight.ts";
export { besideCrown, type SlotFigures, saddleSlot } from "./saddleSlot.ts";
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
