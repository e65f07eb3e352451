/** Strings: names and pitches of notes, construction, tension, stiffness, losses, partials, compensation. */

export { airDrag, type SurroundingAir } from "./airDrag.ts";
export {
  type Compensation,
  compensation,
  type FrettingGeometry,
  frettedErrors,
  type StringEnds,
} from "./compensation.ts";
export type {
  StretchedString,
  StringConstruction,
  StringDesign,
  StringLoss,
  StringSpread,
  WireName,
  WrapLayer,
} from "./design.ts";
export { designString, type GivenString } from "./designString.ts";
export { partialsBelow, type StringPartials, stringPartials } from "./partials.ts";
export { nearestNote, noteFrequency, noteName, parseNote, pitchOf } from "./pitch.ts";
export { breakMargin, inharmonicity, stretched, tension } from "./tension.ts";
