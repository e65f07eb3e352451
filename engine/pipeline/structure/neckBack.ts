import type { BuildNeck } from "#engine/instrument";
import type { RoundBack } from "#engine/shells";

/** Exponent of the back's curve by the letter makers use (common practice, no source). */
const letters = { V: 1.6, C: 2, D: 2.5, U: 3 } as const;

export interface NeckProfile {
  /** Null where the words name no letter: taken as C. */
  readonly letter: keyof typeof letters | null;
  readonly exponent: number;
}

/** Reads "soft V", "shallow C, thicker on the bass side": the letter; soft or rounded: half way to the ellipse. */
export function neckProfile(words: string | null): NeckProfile {
  const letter = (/\b[VCDU]\b/.exec(words ?? "")?.[0] ?? null) as keyof typeof letters | null;
  if (letter === null) return { letter, exponent: letters.C };
  const exponent = letters[letter];
  return { letter, exponent: /soft|round/i.test(words ?? "") ? (exponent + letters.C) / 2 : exponent };
}

/** The back of the neck where it is `width` wide and `deep` with its board. */
export function neckBack(
  { boardThickness, profile }: Pick<BuildNeck, "boardThickness" | "profile">,
  width: number,
  deep: number,
): RoundBack {
  return {
    half: width / 2,
    under: Math.max(deep - boardThickness, 0.2 * deep),
    exponent: neckProfile(profile).exponent,
  };
}
