import { piecewiseLinear } from "#engine/numerics";
import type { NeckStation, Triple } from "./bodySpec.ts";

/** Unit vectors of a beam: along it, upward (towards +z, square to it), and across, so that along x across = up. */
export interface FrameAxes {
  readonly along: Triple;
  readonly across: Triple;
  readonly up: Triple;
  readonly length: number;
}

/** Axes of the straight line between two places; `up` lies in the upright plane through it (a line straight up leans on x). */
export function frameAxes(from: ArrayLike<number>, to: ArrayLike<number>): FrameAxes {
  const d = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const length = Math.hypot(d[0], d[1], d[2]);
  const along: Triple = [d[0] / length, d[1] / length, d[2] / length];
  const aim: Triple = Math.abs(along[2]) > 0.999 ? [1, 0, 0] : [0, 0, 1];
  const dot = aim[0] * along[0] + aim[1] * along[1] + aim[2] * along[2];
  const raw = [aim[0] - dot * along[0], aim[1] - dot * along[1], aim[2] - dot * along[2]];
  const size = Math.hypot(raw[0], raw[1], raw[2]);
  const up: Triple = [raw[0] / size, raw[1] / size, raw[2] / size];
  const across: Triple = [
    up[1] * along[2] - up[2] * along[1],
    up[2] * along[0] - up[0] * along[2],
    up[0] * along[1] - up[1] * along[0],
  ];
  return { along, across, up, length };
}

/** Value of a station's figure at the fraction s, linear between stations. */
export function stationValue(
  stations: readonly NeckStation[],
  figure: (s: NeckStation) => number,
  s: number,
): number {
  return piecewiseLinear(
    Float64Array.from(stations, (q) => q.s),
    Float64Array.from(stations, figure),
    s,
  );
}

/** Places of a tapered beam's nodes: on the line of its sections' centroids, evenly along the axis; x, y, z by node. */
export function frameLine(
  from: Triple,
  to: Triple,
  stations: readonly NeckStation[],
  pieces: number,
): Float64Array {
  const { up } = frameAxes(from, to);
  const line = new Float64Array(3 * (pieces + 1));
  for (let k = 0; k <= pieces; k++) {
    const s = k / pieces;
    const rise = stationValue(stations, (q) => q.centre, s);
    for (let q = 0; q < 3; q++) line[3 * k + q] = from[q] + (to[q] - from[q]) * s + rise * up[q];
  }
  return line;
}
