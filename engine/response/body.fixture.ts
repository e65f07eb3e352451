import { airProperties, holeFlow } from "#engine/air";
import { opened } from "#engine/numerics";
import type { BodyParts, Crown } from "./bodyParts.ts";
import {
  boxMass,
  type SupportedPlate,
  supportedModes,
  supportedPlateModes,
} from "./supportedPlate.fixture.ts";

/** A box of the size of a guitar: two supported spruce-like plates, 100 mm apart, a round hole, six crowns. Invented. */
export const topPlate: SupportedPlate = {
  length: 0.48,
  width: 0.36,
  massPerArea: 1.6,
  D1: 420,
  D2: 80,
  D3: 95,
  lossFactor: 0.02,
  count: 16,
  cells: [24, 18],
};
export const backPlate: SupportedPlate = {
  ...topPlate,
  massPerArea: 1.9,
  D1: 620,
  D2: 230,
  D3: 220,
  lossFactor: 0.018,
};

export const roomAir = airProperties({ temperature: 293.15, pressure: 101325, relativeHumidity: 0.5 });

/** Six crowns on mesh nodes of the top, 14 mm above it. */
export const sixCrowns: readonly Crown[] = [-0.1, -0.06, -0.02, 0.02, 0.06, 0.1].map((y, k) => ({
  string: k + 1,
  x: 0.16,
  y,
  height: 0.014,
}));

/** Static compliance (6C x 6C) of so many of the plate's own modes: with many, what `pointFlexibility` would give. */
export function modalFlexibility(plate: SupportedPlate, at: readonly Crown[], count: number): Float64Array {
  const scale = 2 / Math.sqrt(plate.massPerArea * plate.length * plate.width);
  const size = 6 * at.length;
  const out = new Float64Array(size * size);
  const motion = new Float64Array(size);
  for (const { m, n, omega } of supportedModes({ ...plate, count })) {
    at.forEach(({ x, y }, c) => {
      const u = (m * Math.PI * x) / plate.length;
      const v = n * Math.PI * (y / plate.width + 0.5);
      motion[6 * c + 2] = scale * Math.sin(u) * Math.sin(v);
      motion[6 * c + 3] = ((scale * n * Math.PI) / plate.width) * Math.sin(u) * Math.cos(v);
      motion[6 * c + 4] = ((-scale * m * Math.PI) / plate.length) * Math.cos(u) * Math.sin(v);
    });
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < size; b++) out[a * size + b] += (motion[a] * motion[b]) / omega ** 2;
    }
  }
  return out;
}

export function circle(x: number, y: number, radius: number): Float64Array {
  return Float64Array.from({ length: 240 }, (_, k) => {
    const t = (2 * Math.PI * (k >> 1)) / 120;
    return k % 2 ? y + radius * Math.sin(t) : x + radius * Math.cos(t);
  });
}

const roundHole = opened(
  holeFlow({
    polygon: circle(0.34, 0, 0.05),
    wallThickness: 0.003,
    outline: Float64Array.from([0, -0.18, 0.48, -0.18, 0.48, 0.18, 0, 0.18]),
    scoopArea: 0,
    air: roomAir,
  }),
);
const flexibility = modalFlexibility(topPlate, sixCrowns, 200);

/** The box, with whatever is to differ. */
export function boxBody(change: Partial<BodyParts> = {}): BodyParts {
  return {
    top: supportedPlateModes(topPlate),
    back: supportedPlateModes(backPlate),
    backSeat: { depth: 0.105, slope: -0.03 },
    rim: { mass: boxMass(1.4, [0.35, 0, -0.05], [0.7, 0.3, 0.1]) },
    cavity: { volume: 0.0165, air: roomAir, hole: roundHole, leak: 2e-8, wallArea: 0.5 },
    crowns: sixCrowns,
    bridgeFlexibility: flexibility,
    stringStiffness: null,
    ...change,
  };
}
