import { done, failed, type Outcome } from "#engine/numerics";
import { packedLength } from "./projectChange.ts";
import type { ReducedModel, ReducedPoint, ReducedTerm } from "./reducedModel.ts";

/** A term at a factor: the weight of each of its knots. */
export interface WeighedTerm {
  readonly term: ReducedTerm;
  readonly weights: Float64Array;
}

export interface ActiveColumns {
  /** Rigid motions, modes, answers to loads, corrections of what is changed; ascending. */
  readonly columns: Uint32Array;
  readonly probes: Uint32Array;
  readonly parts: readonly WeighedTerm[];
}

/** What takes part at a changed place; `laid`: terms beside the model's own. Fails with 'unknown-parameter'. */
export function activeColumns(
  model: ReducedModel,
  point: ReducedPoint,
  laid: readonly WeighedTerm[] = [],
): Outcome<ActiveColumns> {
  const fixed = model.rigidCount + model.values.length + model.loadCount;
  const parts: WeighedTerm[] = [...laid];
  const wanted = new Set<string>(laid.map(({ term }) => term.parameter));
  for (const { parameter, factor } of point) {
    const term = model.terms.find((t) => t.parameter === parameter);
    if (term === undefined)
      return failed("unknown-parameter", `nothing is prepared for a change of "${parameter}"`);
    if (factor === 1) continue;
    parts.push({ term, weights: knotWeights(term.factors, factor) });
    wanted.add(parameter);
    if (term.borrows !== null) wanted.add(term.borrows);
  }
  const columns = Array.from({ length: fixed }, (_, i) => i);
  const probes: number[] = [];
  for (const block of model.blocks) {
    if (!wanted.has(block.parameter)) continue;
    for (let c = block.from; c < block.probes; c++) columns.push(c);
    for (let c = block.probes; c < block.end; c++) probes.push(c);
  }
  return done({ columns: Uint32Array.from(columns), probes: Uint32Array.from(probes), parts });
}

/** Weights of a term's knots at a factor: the polynomial that is zero at 1 and one at its own knot alone. */
export function knotWeights(factors: Float64Array, factor: number): Float64Array {
  return factors.map((own, k) => {
    let weight = (factor - 1) / (own - 1);
    factors.forEach((other, j) => {
      if (j !== k) weight *= (factor - other) / (own - other);
    });
    return weight;
  });
}

/** The chosen columns of a packed matrix (null: zero) and its changes, square, row by row. */
export function changedMatrix(
  columns: Uint32Array,
  nominal: Float64Array | null,
  parts: readonly WeighedTerm[],
  which: "stiffness" | "mass" | "loss",
): Float64Array {
  const n = columns.length;
  const out = new Float64Array(n * n);
  const add = (from: Float64Array, places: Int32Array, weight: number): void => {
    for (let i = 0; i < n; i++) {
      const a = places[i];
      if (a < 0) continue;
      for (let j = 0; j <= i; j++) {
        const b = places[j];
        if (b >= 0) out[i * n + j] += weight * from[a > b ? packedLength(a) + b : packedLength(b) + a];
      }
    }
  };
  if (nominal !== null) add(nominal, Int32Array.from(columns), 1);
  for (const { term, weights } of parts) {
    const places = placesAmong(columns, term.columns);
    for (const [k, w] of weights.entries()) if (w !== 0) add(term[which][k], places, w);
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) out[j * n + i] = out[i * n + j];
  return out;
}

/** Where each column stands in a list, or -1. */
function placesAmong(columns: Uint32Array, list: Uint32Array): Int32Array {
  const place = new Map<number, number>();
  list.forEach((c, i) => {
    place.set(c, i);
  });
  return Int32Array.from(columns, (c) => place.get(c) ?? -1);
}
