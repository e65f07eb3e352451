/** The instrument on the bench: what is in hand, edits that are kept until the server has them, conflict of two pages. */

export { benchDeeds, startBench, useBench } from "./bench.ts";
export type * from "./benchTypes.ts";
export { changedText } from "./changedText.ts";
export { pathOf, type Step, stepsOf } from "./fieldPath.ts";
