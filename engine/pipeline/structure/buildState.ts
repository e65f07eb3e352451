/**
 * How far the instrument is built: what hangs together and is knocked at each step. Binding and sanding change nothing that
 * the document tells of; "weeks later" is the strung instrument with creep, which is no elastic state.
 */
export const buildStates = [
  "free top",
  "braced top",
  "top on the rim",
  "closed box",
  "necked",
  "finished",
  "bridged",
  "strung",
] as const;

export type BuildState = (typeof buildStates)[number];

/** True if the part that comes in at `from` is there in `state`. */
export function reached(state: BuildState, from: BuildState): boolean {
  return buildStates.indexOf(state) >= buildStates.indexOf(from);
}
