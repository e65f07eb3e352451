/** One Newton step of the fairest curve: the measure, the places as constraints, and their first two derivatives. */
import type { Point } from "./polygon.ts";
import { type SpiralSegment, segmentJacobian, segmentNodes } from "./spiralChain.ts";

/** A place the curve must pass; heading (rad) and curvature (1/m) there may be imposed. */
export interface FairPlace {
  readonly point: Point;
  readonly heading: number | null;
  readonly curvature: number | null;
}

/**
 * What is made least:
 *  - "variation": integral of (d curvature / ds)^2 ds (the minimum-variation curve of Moreton and Sequin 1992, from
 *    memory); its curvature stays continuous although places impose both position and heading.
 *  - "bending": integral of curvature^2 ds, a batten's energy (the minimum-energy curve, Mehlum 1974, from memory).
 */
export type FairMeasure = "variation" | "bending";

/** Pieces of straight-running curvature between two places. */
export const pieces = 12;

/**
 * Where each unknown stands in the solver's vector, segment by segment: curvature nodes, length, the pulls (multipliers) of
 * its end, heading; -1 if it is given. So ordered, elimination fills in little: what a segment couples stays beside it.
 */
export interface FairLayout {
  /** Of all unknowns. */
  readonly count: number;
  readonly curvature: Int32Array;
  readonly length: Int32Array;
  readonly heading: Int32Array;
  /** 3 by segment: of the x, y and heading of its end. */
  readonly pull: Int32Array;
}

/** Curvature at every node, length of every segment, heading at every place. */
export interface FairState {
  readonly curvature: Float64Array;
  readonly length: Float64Array;
  readonly heading: Float64Array;
}

/** Heading at the end of segment j: that of the next place, a full turn later once round. */
export function headingAfter(heading: Float64Array, j: number): number {
  return j + 1 < heading.length ? heading[j + 1] : heading[0] + 2 * Math.PI;
}

/** Segment j of the chain that a state describes. */
export function segmentOf(places: readonly FairPlace[], state: FairState, j: number): SpiralSegment {
  const n = places.length;
  const curvatures = new Float64Array(pieces + 1);
  for (let i = 0; i <= pieces; i++) curvatures[i] = state.curvature[(j * pieces + i) % (n * pieces)];
  return { start: places[j].point, heading: state.heading[j], length: state.length[j], curvatures };
}

export interface NewtonSystem {
  readonly n: number;
  readonly matrix: Float64Array;
  readonly right: Float64Array;
  /** Largest breach of a constraint. */
  readonly gap: number;
}

/** [H A'; A 0] [step; multipliers] = [-gradient; -breach], H the Hessian of measure + multipliers . constraints. */
export function newtonSystem(
  places: readonly FairPlace[],
  state: FairState,
  layout: FairLayout,
  measure: FairMeasure,
  multipliers: Float64Array,
): NewtonSystem {
  const count = places.length;
  const n = layout.count;
  const matrix = new Float64Array(n * n);
  const right = new Float64Array(n);
  let gap = 0;
  for (let j = 0; j < count; j++) {
    const segment = segmentOf(places, state, j);
    const at = segmentNodes(segment);
    const jacobian = segmentJacobian(segment, at);
    const columns = pieces + 3;
    const unknown = new Int32Array(columns);
    for (let i = 0; i <= pieces; i++) unknown[i] = layout.curvature[(j * pieces + i) % (count * pieces)];
    unknown[pieces + 1] = layout.length[j];
    unknown[pieces + 2] = layout.heading[j];

    const local = measureOf(segment, measure);
    const bend = constraintHessian(segment, multipliers.subarray(3 * j, 3 * j + 3));
    for (let p = 0; p < columns; p++) {
      if (unknown[p] < 0) continue;
      right[unknown[p]] -= local.gradient[p];
      for (let q = 0; q < columns; q++) {
        if (unknown[q] >= 0)
          matrix[unknown[p] * n + unknown[q]] += local.hessian[p * columns + q] + bend[p * columns + q];
      }
    }
    const target = places[(j + 1) % count].point;
    const breach = [
      at[3 * pieces] - target[0],
      at[3 * pieces + 1] - target[1],
      at[3 * pieces + 2] - headingAfter(state.heading, j),
    ];
    for (let r = 0; r < 3; r++) {
      const row = layout.pull[3 * j + r];
      right[row] = -breach[r];
      gap = Math.max(gap, Math.abs(breach[r]));
      for (let p = 0; p < columns; p++) {
        if (unknown[p] < 0) continue;
        matrix[row * n + unknown[p]] += jacobian[r * columns + p];
        matrix[unknown[p] * n + row] += jacobian[r * columns + p];
      }
    }
    const next = layout.heading[(j + 1) % count];
    if (next >= 0) {
      const row = layout.pull[3 * j + 2];
      matrix[row * n + next] -= 1;
      matrix[next * n + row] -= 1;
    }
  }
  return { n, matrix, right, gap };
}

/** Gradient and Hessian of one segment's measure in its own unknowns (curvature nodes, length, heading). */
function measureOf(
  segment: SpiralSegment,
  measure: FairMeasure,
): { gradient: Float64Array; hessian: Float64Array } {
  const columns = pieces + 3;
  const gradient = new Float64Array(columns);
  const hessian = new Float64Array(columns * columns);
  const span = segment.length;
  const l = pieces + 1;
  for (let i = 0; i < pieces; i++) {
    const a = segment.curvatures[i];
    const b = segment.curvatures[i + 1];
    // Per piece: variation (b - a)^2 pieces / span, bending (a^2 + a b + b^2) span / (3 pieces).
    const varies = measure === "variation";
    const value = varies ? (b - a) ** 2 : (a * a + a * b + b * b) / 3;
    const byA = varies ? -2 * (b - a) : (2 * a + b) / 3;
    const byB = varies ? 2 * (b - a) : (a + 2 * b) / 3;
    const same = varies ? 2 : 2 / 3;
    const cross = varies ? -2 : 1 / 3;
    const scale = varies ? pieces / span : span / pieces;
    const scaleByL = varies ? -pieces / span ** 2 : 1 / pieces;
    const scaleByLL = varies ? (2 * pieces) / span ** 3 : 0;
    gradient[i] += byA * scale;
    gradient[i + 1] += byB * scale;
    gradient[l] += value * scaleByL;
    hessian[i * columns + i] += same * scale;
    hessian[(i + 1) * columns + i + 1] += same * scale;
    hessian[i * columns + i + 1] += cross * scale;
    hessian[(i + 1) * columns + i] += cross * scale;
    for (const [p, slope] of [
      [i, byA],
      [i + 1, byB],
    ]) {
      hessian[p * columns + l] += slope * scaleByL;
      hessian[l * columns + p] += slope * scaleByL;
    }
    hessian[l * columns + l] += value * scaleByLL;
  }
  return { gradient, hessian };
}

/** Second derivatives of multipliers . (end of segment), by central differences of the exact first ones. */
function constraintHessian(segment: SpiralSegment, multipliers: Float64Array): Float64Array {
  const columns = pieces + 3;
  const out = new Float64Array(columns * columns);
  if (multipliers.every((m) => m === 0)) return out;
  for (let q = 0; q < columns; q++) {
    const eps = q <= pieces ? 1e-4 : q === pieces + 1 ? 1e-5 * segment.length : 1e-5;
    const forward = pulled(nudged(segment, q, eps), multipliers);
    const backward = pulled(nudged(segment, q, -eps), multipliers);
    for (let p = 0; p < columns; p++) out[p * columns + q] = (forward[p] - backward[p]) / (2 * eps);
  }
  for (let p = 0; p < columns; p++) {
    for (let q = 0; q < p; q++) {
      const mean = (out[p * columns + q] + out[q * columns + p]) / 2;
      out[p * columns + q] = mean;
      out[q * columns + p] = mean;
    }
  }
  return out;
}

function pulled(segment: SpiralSegment, multipliers: Float64Array): Float64Array {
  const jacobian = segmentJacobian(segment, segmentNodes(segment));
  const columns = pieces + 3;
  const out = new Float64Array(columns);
  for (let r = 0; r < 3; r++)
    for (let p = 0; p < columns; p++) out[p] += multipliers[r] * jacobian[r * columns + p];
  return out;
}

function nudged(segment: SpiralSegment, unknown: number, by: number): SpiralSegment {
  if (unknown === pieces + 1) return { ...segment, length: segment.length + by };
  if (unknown === pieces + 2) return { ...segment, heading: segment.heading + by };
  const curvatures = segment.curvatures.slice();
  curvatures[unknown] += by;
  return { ...segment, curvatures };
}
