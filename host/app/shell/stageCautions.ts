import { setupCautions } from "#engine/pipeline";

/** Common practice, no source. */
const dust =
  "Dust of dark and oily board woods sensitises, and that of shell and bone is not to be breathed: exhaust and mask, and the wood's safety sheet.";
const carbon =
  "Carbon-fibre dust irritates lungs and skin and carries current: cut it wet or under exhaust, gloved, and away from switches.";

const iron =
  "Bending irons and wet wood burn and scald: gloves, a stop for the iron, and nothing that burns near it.";
const blades =
  "Blades, scrapers and thin offcuts cut: both hands behind the edge, the work held, not the hand.";

export const outlineCautions = [iron, dust, blades];
export const braceCautions = [blades, dust];
export const stringCautions = setupCautions.slice(0, 1);
export const slotCautions = [dust, ...setupCautions.slice(2, 3)];
export const neckCautions = [setupCautions[1]!, carbon, dust];
export const setupStageCautions = setupCautions;
/** Before the load is computed; its report says more. */
export const loadStageCautions = setupCautions.slice(0, 1);
