import type { BoardSpec } from "./boardSpec.ts";

/** Six strings on one scale, twenty frets. */
export const parallelBoard: BoardSpec = {
  strings: 6,
  bassScale: 0.648,
  trebleScale: 0.648,
  squareFret: 0,
  frets: 20,
  nutWidth: 0.044,
  endWidth: 0.057,
  endStation: null,
  stringSpreadNut: 0.038,
  stringSpreadSaddle: 0.056,
};
