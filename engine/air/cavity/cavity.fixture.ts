/** Cavities of our own invention for the tests of this module. */
import { airProperties } from "../airProperties.ts";
import type { CavitySpec, HoleOpening } from "./cavitySpec.ts";

export const air = airProperties({ temperature: 293.15, pressure: 101325, relativeHumidity: 0.5 });

export function ellipse(x: number, y: number, a: number, b: number, count = 240): Float64Array {
  const p = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const angle = (2 * Math.PI * i) / count;
    p[2 * i] = x + a * Math.cos(angle);
    p[2 * i + 1] = y + b * Math.sin(angle);
  }
  return p;
}

export function opening(polygon: Float64Array, over: Partial<HoleOpening> = {}): HoleOpening {
  return { polygon, wall: 0.003, scoop: { height: 0.015, wall: 0.002 }, ...over };
}

/** A box of 0.5 x 0.4 x 0.1 m. */
export const box: CavitySpec = {
  outline: Float64Array.of(0, 0, 0.5, 0, 0.5, 0.4, 0, 0.4),
  top: { at: 0, perX: 0, dome: null },
  back: { at: -0.1, perX: 0, dome: null },
  hole: null,
  solidVolume: 0,
  wallArea: null,
  leak: 0,
  air,
  toFrequency: 700,
  size: 0.08,
  layers: 1,
};

/** An egg with two domes and a wedge between them. */
export const egg: CavitySpec = {
  ...box,
  outline: Float64Array.from({ length: 400 }, (_, k) => {
    const angle = (Math.PI * (k - (k % 2))) / 200;
    const radius = 0.2 + 0.03 * Math.cos(angle);
    return k % 2 === 0 ? 0.23 + radius * Math.cos(angle) : radius * Math.sin(angle);
  }),
  top: { at: 0.002, perX: -0.01, dome: { radius: 6, apex: [0.2, 0] } },
  back: { at: -0.11, perX: 0.04, dome: { radius: 3, apex: [0.22, 0.01] } },
  hole: opening(ellipse(0.3, 0.02, 0.045, 0.045)),
  layers: 2,
};
