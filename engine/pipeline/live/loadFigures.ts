import type { ReducedSolution } from "#engine/shells";
import type { LiveLoadFigures } from "./liveModel.ts";

/** What the strings' forces do at a place of the reduced model; figures: 2 x columns of the whole model. */
export function loadFigures(figures: Float64Array, { columns, answers }: ReducedSolution): LiveLoadFigures {
  const count = figures.length / 2;
  const figure = (row: number): number =>
    columns.reduce((sum, c, i) => sum + figures[row * count + c]! * answers[i]!, 0);
  return { bridgeRotation: figure(0), saddleRise: figure(1) };
}
