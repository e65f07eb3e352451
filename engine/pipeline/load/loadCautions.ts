/** Where the work can hurt someone; common practice. What a product's own safety sheet says goes before it. */
export const loadCautions: readonly string[] = [
  "Bring strings to pitch the first time slowly, face turned away and eyes covered: a string, a bridge or a brace that lets go under some 70 kgf flies.",
  "Slacken all strings before steaming, heating or knocking off a bridge, before shaving braces through the hole and before working on neck joint or rod.",
  "A closed car passes 60 degrees Celsius in the sun: glue softens there. Slacken the strings, better leave no guitar in it, and let it cool before tuning up.",
  "Glues, solvents and finishes: the product's safety sheet goes before anything said here.",
];
