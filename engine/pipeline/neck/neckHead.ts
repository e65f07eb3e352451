import type { Build } from "#engine/instrument";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";

/** One string over the nut. */
export interface HeadString {
  readonly string: number;
  /** Turn downwards over the nut, rad. */
  readonly breakAngle: number;
  /** Turn sideways at the nut, rad, towards the bass side above 0. */
  readonly sideways: number;
  /** What it presses on the nut, and pushes it sideways, N. */
  readonly press: number;
  readonly sidePush: number;
}

/** A string leaves its post so high over the head's face, m: common practice, no source. */
export const postWrap = 6e-3;

/**
 * Behind the nut a string runs on to its post: down by the head's angle and by what the nut stands higher over the face (which
 * begins at the underside of the board) than the string's wrap on the post; sideways by the post's place against the string's own line. A string
 * turned by an angle b presses with 2 T sin(b / 2).
 */
export function headStrings(
  build: Build,
  { boardInOwnFrame: board }: InstrumentGeometry,
  strings: readonly SetString[],
): readonly HeadString[] {
  const { head, boardThickness, fretHeight } = build.neck;
  return board.strings.map(({ string, nut, saddle }, i) => {
    const [along, aside] = head.posts[i]!;
    const stands = boardThickness + fretHeight + build.strings[i]!.nutClearance;
    const breakAngle = head.angle + Math.atan((stands - postWrap) / along);
    const own = Math.atan((nut[1] - saddle[1]) / (saddle[0] - nut[0]));
    const sideways = Math.atan((aside - nut[1]) / along) - own;
    const { tension } = strings[i]!;
    return {
      string,
      breakAngle,
      sideways,
      press: 2 * tension * Math.sin(breakAngle / 2),
      sidePush: 2 * tension * Math.sin(sideways / 2),
    };
  });
}
