/**
 * Where the work can hurt someone; common practice, no source. What a product's own safety sheet says goes before it.
 */

const firstPitch =
  "Bring strings to pitch the first time slowly, face turned away and eyes covered: a string, a bridge or a brace that lets go under some 70 kgf flies.";
const sheets = "Glues, solvents and finishes: the product's safety sheet goes before anything said here.";

/** Body under its strings. */
export const loadCautions: readonly string[] = [
  firstPitch,
  "Slacken all strings before steaming, heating or knocking off a bridge, before shaving braces through the hole and before working on neck joint or rod.",
  "A closed car passes 60 degrees Celsius in the sun: glue softens there. Slacken the strings, better leave no guitar in it, and let it cool before tuning up.",
  sheets,
];

/** Nut, saddle, frets, rod. */
export const setupCautions: readonly string[] = [
  firstPitch,
  "Slacken the strings before nut or saddle is lifted out and before the rod's nut is turned far: a string under tension whips, and its end cuts.",
  "Cut wire ends and filed frets are sharp, and metal, bone and shell dust is not to be breathed: eyes covered, dust drawn off or wetted.",
  sheets,
];
