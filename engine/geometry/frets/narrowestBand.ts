/** The narrowest straight band that holds points: where a straight saddle slot must lie. */
import { done, failed, type Outcome } from "#engine/numerics";

export interface Band {
  /** Change of the band's middle per unit across. */
  readonly slope: number;
  /** Middle of the band where `across` is 0. */
  readonly middle: number;
  readonly width: number;
}

/**
 * The band of least width in `back` that holds every point (across, back). With `slope` given its slope is that; else the
 * best one, which is that of a line through two of the points (the width is convex and piecewise straight in the slope).
 * Fails with 'band' for fewer than two points or two at one place.
 */
export function narrowestBand(
  across: readonly number[],
  back: readonly number[],
  slope: number | null,
): Outcome<Band> {
  const distinct = new Set(across).size === across.length;
  if (across.length < 2 || across.length !== back.length || !distinct)
    return failed("band", `${across.length} places for ${back.length} offsets`);
  const band = (m: number): Band => {
    const left = back.map((b, i) => b - m * across[i]);
    const [low, high] = [Math.min(...left), Math.max(...left)];
    return { slope: m, middle: (low + high) / 2, width: high - low };
  };
  if (slope !== null) return done(band(slope));
  let best = band(0);
  for (let i = 0; i < across.length; i++)
    for (let k = 0; k < i; k++) {
      const tried = band((back[i] - back[k]) / (across[i] - across[k]));
      if (tried.width < best.width) best = tried;
    }
  return done(best);
}
