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
 * - main top and main back: two modes chosen together so that the sum of the top's score in the one and the back's in the
 *   other is greatest. Score = share x breathing^2. The share is (flow of the plate / omega^2)^2 over its sum over all
 *   modes: what the mode has of the shape the plate takes under a steady pressure, whichever plate holds more energy when both
 *   lie close. breathing = (plate + net)^2 / 2 (plate^2 + net^2), net the flow of both plates, turned round where the hole
 *   breathes against it: 1 where plate and hole breathe together, 1/2 where the other plate cancels the flow and the hole
 *   stands still, less where the hole goes with the other plate. (The hole follows the net flow. Where top and back cancel,
 *   its sign is an accident that a hundredth of the wood's stiffness turns round: no name may hang on it.)
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

  const others = modes.filter((i) => i !== air);
  const net = holeFlow.map((h, i) => (h * plates(i) < 0 ? -plates(i) : plates(i)));
  const ofTop = plateScore(topFlow, net, square);
  const ofBack = plateScore(backFlow, net, square);
  const backOthers = (i: number | null) =>
    largest(
      others.filter((j) => j !== i),
      ofBack,
    );
  const top = largest(
    others.filter((i) => ofTop(i) > 0),
    (i) => {
      const back = backOthers(i);
      return ofTop(i) + (back === null ? 0 : ofBack(back));
    },
  );
  const back = backOthers(top);
  if (top !== null) name[top] = "main top";
  if (back !== null) name[back] = "main back";
  return name;
}

/** Share of a plate's shape under steady pressure times the square of its breathing with the net flow, by mode; see `nameModes`. */
function plateScore(flow: Float64Array, net: Float64Array, square: Float64Array): (i: number) => number {
  const give = flow.map((f, i) => (f / square[i]) ** 2);
  const sum = give.reduce((total, g) => total + g, 0);
  return (i) => {
    if (give[i] === 0) return 0;
    const breathing = (flow[i] + net[i]) ** 2 / (2 * (flow[i] ** 2 + net[i] ** 2));
    return (give[i] / sum) * breathing ** 2;
  };
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
