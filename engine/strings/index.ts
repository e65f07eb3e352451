/** Strings: names and pitches of notes, construction, tension, stiffness, losses, partials, compensation. */
export { airDrag } from "./airDrag.ts";
export { compensation, frettedErrors } from "./compensation.ts";
export type { StretchedString, StringConstruction, StringDesign } from "./design.ts";
export { designString } from "./designString.ts";
export { partialsBelow, stringPartials } from "./partials.ts";
export { nearestNote, noteFrequency, noteName, pitchOf } from "./pitch.ts";
export { breakMargin, inharmonicity, stretched, tension } from "./tension.ts";
