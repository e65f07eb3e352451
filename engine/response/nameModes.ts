import type { ModeName } from "./bodyResponse.ts";

/** What a name is given by: motion alone. */
export interface ModeMotion {
  readonly count: number;
  /** count: omega^2. */
  readonly square: Float64Array;
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
 * - main top and main back: a mode in which the hole breathes with the top and another in which it breathes with the back,
 *   chosen together so that the sum of (the top's flow in the one)^2 and (the back's flow in the other)^2 is greatest, flows
 *   per root of the energy stored, each square over its sum over all modes: the share of the plate's give to a steady
 *   pressure, whichever plate holds more energy when both lie close. (Where top and back move the same way the hole goes with the
 *   stronger one, so that mode is the stronger one's.)
 * A name for which no mode qualifies is not given.
 */
export function nameModes(motion: ModeMotion): ModeName[] {
  const { count, square, topFlow, backFlow, holeFlow, energyShare } = motion;
  const name: ModeName[] = new Array<ModeName>(count).fill(null);
  const modes = Array.from({ length: count }, (_, i) => i);
  const plates = (i: number) => topFlow[i] + backFlow[i];

  const air = largest(
    modes.filter((i) => holeFlow[i] * plates(i) <= 0 && Math.abs(holeFlow[i]) > Math.abs(plates(i))),
    (i) => energyShare[3 * i + 2],
  );
  if (air !== null) name[air] = "main air";

  const withHole = (flow: Float64Array) => modes.filter((i) => i !== air && holeFlow[i] * flow[i] > 0);
  const share = (flow: Float64Array) => {
    const give = flow.map((f, i) => (f * f) / square[i]);
    const sum = give.reduce((total, g) => total + g, 0);
    return (i: number) => (sum > 0 ? give[i] / sum : 0);
  };
  const ofTop = share(topFlow);
  const ofBack = share(backFlow);
  const backOthers = (i: number | null) =>
    largest(
      withHole(backFlow).filter((j) => j !== i),
      ofBack,
    );
  const top = largest(withHole(topFlow), (i) => {
    const back = backOthers(i);
    return ofTop(i) + (back === null ? 0 : ofBack(back));
  });
  const back = backOthers(top);
  if (top !== null) name[top] = "main top";
  if (back !== null) name[back] = "main back";
  return name;
}

/** The mode with the largest score, or null if none is above 0. */
function largest(modes: readonly number[], score: (i: number) => number): number | null {
  let best: number | null = null;
  let most = 0;
  for (const i of modes) {
    const s = score(i);
    if (s > most) {
      most = s;
      best = i;
    }
  }
  return best;
}
