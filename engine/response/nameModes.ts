import type { ModeName } from "./bodyResponse.ts";

/** What a name is given by: motion alone. */
export interface ModeMotion {
  readonly count: number;
  /** count: volumes swept outward by the top's and the back's bending and by the hole, mass-normalised. */
  readonly topFlow: Float64Array;
  readonly backFlow: Float64Array;
  readonly holeFlow: Float64Array;
  /** count x 3: kinetic energy shares of top, back, hole. */
  readonly energyShare: Float64Array;
}

/**
 * Names by motion. With the plates pressed in, air leaves by the hole.
 * - main air: of the modes in which the hole breathes against the plates (their flows have opposite signs, the hole's the
 *   larger), the one with the most of its energy in the hole's air.
 * - main top: of the modes in which the hole breathes with the plates and the top holds more energy than the back, the one
 *   in which the top sweeps most volume per root of modal mass.
 * - main back: the same with top and back exchanged.
 * A name for which no mode qualifies is not given.
 */
export function nameModes(motion: ModeMotion): ModeName[] {
  const { count, topFlow, backFlow, holeFlow, energyShare } = motion;
  const name: ModeName[] = new Array<ModeName>(count).fill(null);
  const give = (label: ModeName, score: (i: number) => number) => {
    let best = -1;
    let most = 0;
    for (let i = 0; i < count; i++) {
      const s = name[i] === null ? score(i) : 0;
      if (s > most) {
        most = s;
        best = i;
      }
    }
    if (best >= 0) name[best] = label;
  };
  const plates = (i: number) => topFlow[i] + backFlow[i];
  const withPlates = (i: number) => holeFlow[i] * plates(i) > 0;
  const [top, back, hole] = [0, 1, 2].map((part) => (i: number) => energyShare[3 * i + part]);
  give("main air", (i) => (!withPlates(i) && Math.abs(holeFlow[i]) > Math.abs(plates(i)) ? hole(i) : 0));
  give("main top", (i) => (withPlates(i) && top(i) > back(i) ? topFlow[i] ** 2 : 0));
  give("main back", (i) => (withPlates(i) && back(i) > top(i) ? backFlow[i] ** 2 : 0));
  return name;
}
