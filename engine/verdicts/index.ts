export { frequencySigma, type HonestAccuracy, honestAccuracy, type Knowledge } from "./accuracy.ts";
export { bridgeRotation } from "./bridgeRotation.ts";
export { type BoardEvenness, evenness, type NoteStrength } from "./evenness.ts";
export { type CurveFairness, type CurveFault, fairness } from "./fairness.ts";
export { type MainMode, mainModePlacing, type PlayedNote } from "./mainModePlacing.ts";
export { type SaddleSeat, saddleFit } from "./saddleFit.ts";
export {
  centsBetween,
  nearestNote,
  sayAngle,
  sayCount,
  sayForce,
  sayFrequency,
  sayLength,
  sayList,
  sayPitch,
} from "./say.ts";
export { type StringAtPitch, stringStrength } from "./stringStrength.ts";
export { totalLoad } from "./totalLoad.ts";
export {
  exitStatus,
  holdsUp,
  type Level,
  type MeantMark,
  markMeant,
  type TargetRange,
  type Verdict,
} from "./verdict.ts";
export { type NoteCoupling, wolfRisk } from "./wolfRisk.ts";
