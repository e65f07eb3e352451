/** Signals: frequency weighting, and samples as a file of sound. */
export { type WavFormat, wavBytes } from "./wavBytes.ts";
export { aWeight } from "./weighting.ts";
