/** Strings: names and pitches of notes, construction, tension, stiffness, losses, partials, fretting and compensation. */
export { airDrag } from "./airDrag.ts";
export {
  clearancesAhead,
  leastHeights,
  type NearestCrown,
  nearestCrowns,
  type PluckFor,
} from "./buzz/buzzCheck.ts";
export { actionFret, heightsOverFrets, type StringOverBoard } from "./buzz/overBoard.ts";
export type { StretchedString, StringConstruction, StringDesign, WireName } from "./design.ts";
export { designString } from "./designString.ts";
export { feel, type Touch } from "./feel.ts";
export { fitLosses } from "./fitLosses.ts";
export { bestOffsets, type FittedOffsets, type OffsetWishes } from "./fretting/bestOffsets.ts";
export { leastFingerDepth } from "./fretting/fingerDepth.ts";
export { fitMeasured } from "./fretting/fitMeasured.ts";
export { frettedPitch } from "./fretting/frettedPitch.ts";
export {
  type FrettingString,
  withAction,
} from "./fretting/frettingString.ts";
export { intonation } from "./fretting/intonation.ts";
export { relievedCrowns } from "./fretting/relievedCrowns.ts";
export { sensitivityToAction } from "./fretting/sensitivityToAction.ts";
export { soundingFrequency } from "./fretting/soundingPart.ts";
export { wires } from "./materials.data.ts";
export { partialsBelow, type StringPartials, stringPartials } from "./partials.ts";
export { nearestNote, noteFrequency, noteName, pitchOf } from "./pitch.ts";
export { balancedSet } from "./set/balancedSet.ts";
export { type MakeableString, makeableStrings } from "./set/makeableStrings.ts";
export { nearestThatWorks } from "./set/nearestThatWorks.ts";
export {
  breakMargin,
  inharmonicity,
  slackLimit,
  stretched,
  stringState,
  tension,
} from "./tension.ts";
