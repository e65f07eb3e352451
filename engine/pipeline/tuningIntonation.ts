import type { BuildTuning } from "#engine/instrument";
import type { Outcome } from "#engine/numerics";
import { bestOffsets, type FittedOffsets, type FrettingString, intonation } from "#engine/strings";

/** How a further tuning sounds on nut and saddle placed for the first one; null where `refused` says why a string cannot be played. */
export interface TuningIntonation {
  readonly name: string;
  readonly strings: readonly {
    readonly string: number;
    readonly note: string;
    readonly refused: { readonly reason: string; readonly detail: string } | null;
    readonly left: {
      /** Weighted rms over the frets, and the worst fret, with the first tuning's offsets. */
      readonly errorRmsCents: number;
      readonly worstCents: number;
      readonly worstFret: number;
      /** The saddle offset that this tuning alone would want, the nut where it is. */
      readonly saddleOffsetM: number;
    } | null;
  }[];
}

/** Each string tuned to the tuning's note, the board and its heights as they are (the pull's effect on relief is left out). */
export function tuningIntonation(
  tuning: BuildTuning,
  over: readonly FrettingString[],
  first: readonly Outcome<FittedOffsets>[],
  weights: readonly number[],
): TuningIntonation {
  return {
    name: tuning.name,
    strings: over.map((s, i) => {
      const fit = first[i]!;
      const head = { string: s.string, note: tuning.notes[i]! };
      if (!fit.ok) return { ...head, refused: { reason: fit.reason, detail: fit.detail }, left: null };
      const tuned = { ...s, openFrequency: tuning.frequencies[i]! };
      const played = intonation(tuned, fit.value.offsets);
      if (!played.ok)
        return { ...head, refused: { reason: played.reason, detail: played.detail }, left: null };
      const wanted = bestOffsets([tuned], { nut: "zero", weights, from: [fit.value.offsets] });
      if (!wanted.ok)
        return { ...head, refused: { reason: wanted.reason, detail: wanted.detail }, left: null };
      const { cents } = played.value;
      let squares = 0;
      let total = 0;
      let worstFret = 1;
      for (let f = 1; f < cents.length; f++) {
        squares += weights[f]! * cents[f]! ** 2;
        total += weights[f]!;
        if (Math.abs(cents[f]!) > Math.abs(cents[worstFret]!)) worstFret = f;
      }
      return {
        ...head,
        refused: null,
        left: {
          errorRmsCents: Math.sqrt(squares / total),
          worstCents: cents[worstFret]!,
          worstFret,
          saddleOffsetM: wanted.value[0]!.offsets.saddle,
        },
      };
    }),
  };
}
