import { defaultBodySettings } from "./bodySettings.ts";

/** As coarse as still makes a body: for tests that ask when or how something is done, not how it sounds. */
export const coarseBody = {
  ...defaultBodySettings,
  meshSize: { top: 0.03, back: 0.03, side: 0.04 },
  toFrequency: 400,
  cavity: { toFrequency: 800, size: 0.08, layers: 2 },
  exteriorPanels: 260,
  exteriorFrequencies: 4,
};
