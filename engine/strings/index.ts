/** Strings: names and pitches of notes, construction, tension, stiffness, losses, partials, fretting and compensation. */
export { airDrag } from "./airDrag.ts";
export type { StretchedString, StringConstruction, StringDesign } from "./design.ts";
export { designString } from "./designString.ts";
export { bestOffsets, type FittedOffsets, type NutRule, type OffsetWishes } from "./fretting/bestOffsets.ts";
export { leastFingerDepth } from "./fretting/fingerDepth.ts";
export {
  type FitPriors,
  type FittedValue,
  fitMeasured,
  type MeasuredFit,
  type MeasuredNote,
} from "./fretting/fitMeasured.ts";
export { type FrettedPitch, frettedPitch } from "./fretting/frettedPitch.ts";
export {
  type CrownFriction,
  type Finger,
  type FrettingString,
  type Offsets,
  openClearance,
  withAction,
} from "./fretting/frettingString.ts";
export { type Intonation, intonation } from "./fretting/intonation.ts";
export { relievedCrowns } from "./fretting/relievedCrowns.ts";
export { type ActionSensitivity, sensitivityToAction } from "./fretting/sensitivityToAction.ts";
export { soundingFrequency } from "./fretting/soundingPart.ts";
export { partialsBelow, type StringPartials, stringPartials } from "./partials.ts";
export { nearestNote, noteFrequency, noteName, pitchOf } from "./pitch.ts";
export { breakMargin, inharmonicity, stretched, tension } from "./tension.ts";
