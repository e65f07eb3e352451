/** Regions of our own invention for the tests of this module. */
import type { PlanRegion } from "./index.ts";

/** A guitar-like outline r(angle) of our own, n points. */
export function bodyOutline(n: number): Float64Array {
  return Float64Array.from(
    Array.from({ length: n }, (_, k) => {
      const a = (2 * Math.PI * k) / n;
      return [
        0.24 * Math.cos(a),
        (0.16 - 0.045 * Math.cos(a) + 0.02 * Math.cos(2 * a) - 0.035 * Math.cos(4 * a)) * Math.sin(a),
      ];
    }).flat(),
  );
}

export function circle(x: number, y: number, r: number, n: number): Float64Array {
  return Float64Array.from(
    Array.from({ length: n }, (_, k) => [
      x + r * Math.cos((2 * Math.PI * k) / n),
      y + r * Math.sin((2 * Math.PI * k) / n),
    ]).flat(),
  );
}

export function chain(...xy: number[]): Float64Array {
  return Float64Array.from(xy);
}

export function radial(count: number, x: number, y: number, from: number, to: number): Float64Array[] {
  return Array.from({ length: count }, (_, k) => {
    const a = (2 * Math.PI * k) / count + 0.2;
    return chain(x + from * Math.cos(a), y + from * Math.sin(a), x + to * Math.cos(a), y + to * Math.sin(a));
  });
}

export const square = chain(0, 0, 0.3, 0, 0.3, 0.2, 0, 0.2);
export const plain = (lines: Float64Array[]): PlanRegion => ({ outline: square, holes: [], lines });
export const body: PlanRegion = {
  outline: bodyOutline(150),
  holes: [circle(0.1, 0.01, 0.04, 60)],
  lines: [
    chain(0.06, 0.09, -0.16, -0.09),
    chain(0.06, -0.09, -0.16, 0.09),
    chain(-0.12, -0.07, -0.09, -0.07, -0.09, 0.07, -0.12, 0.07, -0.12, -0.07),
    ...radial(7, -0.1, 0, 0.012, 0.08),
  ],
};

export function mapped(
  region: PlanRegion,
  f: (x: number, y: number) => readonly [number, number],
): PlanRegion {
  const each = (p: Float64Array) => {
    const out = new Float64Array(p.length);
    for (let i = 0; i < p.length; i += 2) out.set(f(p[i], p[i + 1]), i);
    return out;
  };
  return { outline: each(region.outline), holes: region.holes.map(each), lines: region.lines.map(each) };
}
