/** Body figures of our own invention for the tests of this module. */
import type { BodySpec, CutawaySpec, OutlineDimensions } from "./bodySpec.ts";

export const plainOutline: OutlineDimensions = {
  kind: "dimensions",
  length: 0.505,
  lowerBout: { width: 0.4, station: 0.16 },
  waist: { width: 0.25, station: 0.295 },
  upperBout: { width: 0.288, station: 0.4 },
  tailRadius: 0.45,
  neckRadius: 0.3,
};

export const deepCutaway: CutawaySpec = {
  side: "treble",
  depth: 0.1,
  tipSetback: 0.062,
  tipRadius: 0.012,
  neckOffset: 0.034,
  neckAngle: 0.08,
  cornerRadius: 0.008,
  scoopRadius: null,
};

export const plainBody: BodySpec = {
  outline: plainOutline,
  cutaway: null,
  hole: { kind: "ellipse", centre: [0.355, 0], semiAxes: [0.05, 0.05], angle: 0 },
  topDome: { radius: 9, apex: [0.2, 0] },
  backDome: { radius: 4.5, apex: [0.22, 0] },
  depthAtTail: 0.118,
  depthAtNeck: 0.098,
  topThickness: 0.0028,
  backThickness: 0.0025,
  sideThickness: 0.0022,
  solidVolume: 0.0009,
  hand: "right",
};
