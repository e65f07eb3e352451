import type { LiveChange } from "#engine/pipeline";

/** The size of the hole moves beside whatever else does. */
const holeSize = "soundHole.size";

/** Values that a model must have been made for to follow the change; none for a brace that is laid elsewhere, which is held when it comes to that. */
export function valuesOf(change: LiveChange): readonly string[] {
  return change.flatMap((one) => ("brace" in one ? [] : [one.parameter]));
}

/** Whether a model that can move these places can follow the change: a brace is laid elsewhere alone, or beside the size of the hole. */
export function followable(movable: readonly string[], change: LiveChange): boolean {
  const moved = change.filter((one) => "brace" in one).length;
  const values = valuesOf(change);
  if (moved > 1 || (moved === 1 && values.some((path) => path !== holeSize))) return false;
  return change.every((one) => movable.includes("brace" in one ? one.brace : one.parameter));
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
