import { invariant } from "../invariant.ts";
import { done, failed, type Outcome } from "../outcome.ts";
import type { Eigenpairs } from "./iteratedModes.ts";
import type { ModeSlice } from "./modesBetween.ts";

/**
 * The pairs of slices that meet end to end, in ascending order, with the proof that none is missed: each slice knows by a
 * Sturm count at its own shift how many eigenvalues lie below its lower end, and that must be what the slices before it
 * have found. What lies between the last shift and the last end is proved by a count there (countTo of the last slice).
 * Fails with 'modes-missed' where the counts disagree.
 */
export function joinSlices(slices: readonly ModeSlice[]): Outcome<Eigenpairs & { readonly below: number }> {
  invariant(slices.length > 0, () => "no slices");
  const [{ below }] = slices;
  let counted = below;
  slices.forEach((s, i) => {
    invariant(i === 0 || s.from === slices[i - 1].to, () => `slices part at ${s.from}`);
  });
  for (const s of slices) {
    if (s.below !== counted)
      return failed("modes-missed", `${counted} modes found below ${s.from}, ${s.below} counted`);
    counted += s.values.length;
  }
  const whole = (field: "values" | "vectors" | "residuals"): Float64Array => {
    const out = new Float64Array(slices.reduce((sum, s) => sum + s[field].length, 0));
    let at = 0;
    for (const s of slices) {
      out.set(s[field], at);
      at += s[field].length;
    }
    return out;
  };
  return done({ values: whole("values"), vectors: whole("vectors"), residuals: whole("residuals"), below });
}
