/** Signals: frequency weighting. */
export { aWeight } from "./weighting.ts";
