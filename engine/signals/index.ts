/** Signals: frequency weighting, and samples as a file of sound. */
export { wavBytes } from "./wavBytes.ts";
export { aWeight } from "./weighting.ts";
