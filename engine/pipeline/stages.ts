import type { Context } from "#engine/numerics";

/** How a chain of stages tells its progress: each stage is given the share of the whole that it covers. */
export interface Stages {
  /** Context of a stage named in words, covering the fraction [from, to] of the whole run. */
  stage(title: string, from: number, to: number): Context;
}

/** For callers that watch nothing and never cancel. */
export const unwatched: Stages = {
  stage: () => ({ progress: () => {}, cancelled: () => false }),
};
