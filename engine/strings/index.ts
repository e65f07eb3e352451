/** Strings: names and pitches of notes, construction, tension, stiffness, losses, partials, compensation. */
export type {
  StretchedString,
  StringConstruction,
  StringDesign,
  StringLoss,
  StringSpread,
  WireName,
  WrapLayer,
} from "./design.ts";
