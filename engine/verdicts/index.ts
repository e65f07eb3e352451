/** Verdicts: what was computed on the design against its limits, one verdict a file, and what a reason can excuse. */
export { frequencySigma, honestAccuracy, type Knowledge } from "./accuracy.ts";
export { action } from "./action.ts";
export { actionRise, actionRiseOf } from "./actionRise.ts";
export { breakAngle } from "./breakAngle.ts";
export { breakage } from "./breakage.ts";
export { bridgeRotation } from "./bridgeRotation.ts";
export { buckling } from "./buckling.ts";
export { type BuzzFigures, buzz, type NearestNote } from "./buzz.ts";
export { type ClimateCase, climate } from "./climate.ts";
export { type CreepAhead, creepRotation } from "./creepRotation.ts";
export { edgeMargin, type LeastMargin } from "./edgeMargin.ts";
export { evenness } from "./evenness.ts";
export { type CurveFairness, fairness } from "./fairness.ts";
export { hotCar } from "./hotCar.ts";
export { mainModePlacing, type PlayedNote } from "./mainModePlacing.ts";
export {
  type LoadConditions,
  type MarginRow,
  margins,
  type StressEntry,
} from "./margins.ts";
export { neckRelief } from "./neckRelief.ts";
export { neckWood, type WoodLeft } from "./neckWood.ts";
export { reach } from "./reach.ts";
export { rodForce } from "./rodForce.ts";
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
export { slack } from "./slack.ts";
export { stringPath } from "./stringPath.ts";
export { stringStrength } from "./stringStrength.ts";
export { totalLoad } from "./totalLoad.ts";
export {
  exitStatus,
  type Level,
  markMeant,
  type Verdict,
} from "./verdict.ts";
export { wolfRisk } from "./wolfRisk.ts";
