import { done, type Outcome } from "#engine/numerics";
import { bestOffsets, type FittedOffsets, type OffsetWishes } from "./bestOffsets.ts";
import { type FrettingString, openClearance, withAction } from "./frettingString.ts";
import { intonation } from "./intonation.ts";

/** What another action does to one string. */
export interface ActionSensitivity {
  readonly string: number;
  /** Action over fret 12 (with fewer frets: the last) now, m. */
  readonly action: number;
  /** Change of the cents by fret if nut and saddle crowns stay where they are; index 0 is 0. */
  readonly centsChange: Float64Array;
  /** The best offsets at the new action, with what they leave. */
  readonly refitted: FittedOffsets;
}

/**
 * What raising every string by `raise` (m, negative lowers) over fret 12, at the saddle, does to strings compensated as
 * in `present`. Refuses as `bestOffsets` does: an action lowered until a string lies on a crown is such a refusal.
 */
export function sensitivityToAction(
  strings: readonly FrettingString[],
  present: readonly FittedOffsets[],
  wishes: OffsetWishes,
  raise: number,
): Outcome<readonly ActionSensitivity[]> {
  const actions = strings.map((s) => openClearance(s)[Math.min(12, s.fretPlace.length - 1)]!);
  const raised = strings.map((s, i) => withAction(s, actions[i]! + raise));
  const refitted = bestOffsets(raised, { ...wishes, from: present.map((p) => p.offsets) });
  if (!refitted.ok) return refitted;
  const result: ActionSensitivity[] = [];
  for (const [i, s] of raised.entries()) {
    const now = present[i]!;
    const uncut = intonation(s, now.offsets);
    if (!uncut.ok) return uncut;
    result.push({
      string: s.string,
      action: actions[i]!,
      centsChange: uncut.value.cents.map((c, f) => c - now.cents[f]!),
      refitted: refitted.value[i]!,
    });
  }
  return done(result);
}
