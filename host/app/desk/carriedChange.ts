import type { LiveChange } from "#engine/pipeline";

/** Places in the document that a change moves: values, and whole braces. */
export function placesOf(change: LiveChange): readonly string[] {
  return change.map((one) => ("brace" in one ? one.brace : one.parameter));
}

/** Whether all that a change moves is among what a model can move. */
export function holdsAll(movable: readonly string[], change: LiveChange): boolean {
  return placesOf(change).every((place) => movable.includes(place));
}

/** What the hand does to the instrument in hand, told of the one that the model was made of: `base` leads from that to this. */
export function carriedChange(base: LiveChange, change: LiveChange): LiveChange {
  const before = new Map(base.map((one) => ["brace" in one ? one.brace : one.parameter, one]));
  for (const one of change) {
    if ("brace" in one) {
      before.set(one.brace, one);
      continue;
    }
    const earlier = before.get(one.parameter);
    const factor = earlier !== undefined && "factor" in earlier ? earlier.factor : 1;
    before.set(one.parameter, { ...one, factor: factor * one.factor });
  }
  return [...before.values()];
}
