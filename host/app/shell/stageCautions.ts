import { setupCautions } from "#engine/pipeline";

/** Common practice, no source. */
const dust =
  "Dust of dark and oily board woods sensitises, and that of shell and bone is not to be breathed: exhaust and mask, and the wood's safety sheet.";
const carbon =
  "Carbon-fibre dust irritates lungs and skin and carries current: cut it wet or under exhaust, gloved, and away from switches.";

export const stringCautions = setupCautions.slice(0, 1);
export const slotCautions = [dust, ...setupCautions.slice(2, 3)];
export const neckCautions = [setupCautions[1]!, carbon, dust];
export const setupStageCautions = setupCautions;
/** Before the load is computed; its report says more. */
export const loadStageCautions = setupCautions.slice(0, 1);
