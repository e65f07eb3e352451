import { type FrettingString, type Offsets, openHeight } from "./frettingString.ts";
import { restOnSupports, type Support } from "./restOnSupports.ts";
import { soundingFrequency } from "./soundingPart.ts";

/** The open string tuned true on crowns that stand at their offsets. */
export interface OpenString {
  /** Post, nut, saddle, pin. */
  readonly supports: readonly [Support, Support, Support, Support];
  /** Length between nut and saddle, and of the whole, m. */
  readonly sounding: number;
  readonly whole: number;
  /** N. */
  readonly tension: number;
}

/** A change of the tension by this share moves the pitch by 1e-9 cent. */
export const settledShare = 1e-12;

/**
 * The player tunes the open string by ear: its tension is the one at which its first partial, with its stiffness and
 * its ends running on to post and pin, is the frequency asked. The setup must have passed `checkedString`.
 */
export function openTension(s: FrettingString, offsets: Offsets): OpenString {
  const slope = (s.saddleHeight - s.nutHeight) / s.scaleLength;
  const alongBase = 1 / Math.hypot(1, slope);
  const at = (place: number): Support => ({ place, height: openHeight(s, place) });
  const nut = offsets.nut;
  const saddle = s.scaleLength + offsets.saddle;
  const supports = [
    at(nut - s.behindNut * alongBase),
    at(nut),
    at(saddle),
    at(saddle + s.behindSaddle * alongBase),
  ] as const;
  const sounding = (saddle - nut) / alongBase;
  const { linearDensity, bendingStiffness } = s.design;
  let tension = linearDensity * (2 * sounding * s.openFrequency) ** 2;
  // frequency goes as the root of the tension but for a few per mille: each pass gains about three digits
  for (let pass = 0; pass < 8; pass++) {
    const rest = restOnSupports(supports, [tension, tension, tension], bendingStiffness);
    const root = Math.sqrt(tension);
    const frequency = soundingFrequency({
      length: sounding,
      tension,
      bendingStiffness,
      linearDensity,
      ends: [rest.turning(1, "before") / root, rest.turning(2, "behind") / root],
    });
    const gain = (s.openFrequency / frequency) ** 2;
    tension *= gain;
    if (Math.abs(gain - 1) < settledShare) break;
  }
  return { supports, sounding, whole: sounding + s.behindNut + s.behindSaddle, tension };
}
