import { done, type KernelSource, lowestDense, type Outcome, typescriptKernels } from "#engine/numerics";
import { changedMatrix, type WeighedTerm } from "./activeColumns.ts";
import { blockCombined } from "./dotProducts.ts";
import { packedLength } from "./projectChange.ts";
import type { ReducedModel, ReducedPoint } from "./reducedModel.ts";
import { solveReduced } from "./solveReduced.ts";

/** A place whose modes a trimmed model is to hold on to. */
export interface TrainedPlace {
  readonly point: ReducedPoint;
  readonly laid: readonly WeighedTerm[];
}

/** Elastic modes looked at in each place. */
const trained = 36;

/**
 * The model of one parameter with fewer columns: of its corrections those combinations that its modes take part in at some places, led
 * by the strain energy they hold there (the frequencies' squares alike); `corrections` of them, and `probes` that come next. Fails as `solveReduced` does.
 */
export function trimmedModel(
  model: ReducedModel,
  places: readonly TrainedPlace[],
  corrections: number,
  probes: number,
  source: KernelSource = typescriptKernels,
): Outcome<ReducedModel> {
  const [block] = model.blocks;
  const { from, end } = block;
  const size = end - from;
  const kept = Math.min(size, corrections + probes);
  const own = Uint32Array.from({ length: size }, (_, i) => from + i);
  const stiffness = changedMatrix(own, model.stiffness, [], "stiffness");
  // sum over places and modes of z z' / w^2, z the mode's share of the block
  const shares = new Float64Array(size * size);
  for (const { point, laid } of places) {
    const solved = solveReduced(model, point, trained, source, laid);
    if (!solved.ok) return solved;
    const { coordinates, columns, values, count } = solved.value;
    const width = columns.length;
    for (let m = 0; m < count; m++) {
      const z = coordinates.subarray(
        (model.rigidCount + m) * width + from,
        (model.rigidCount + m) * width + end,
      );
      for (let i = 0; i < size; i++)
        for (let j = 0; j < size; j++) shares[i * size + j] += (z[i] * z[j]) / values[m];
    }
  }
  // leading q of K S K q = e K q, found as the least of -K S K
  const half = product(stiffness, shares, size);
  const led = product(half, stiffness, size).map((v) => -v);
  const found = lowestDense(led, stiffness, size, kept, source);
  if (!found.ok) return found;
  const count = from + kept;
  const mix = new Float64Array(count * model.count);
  for (let c = 0; c < from; c++) mix[c * model.count + c] = 1;
  for (let c = 0; c < kept; c++)
    mix.set(found.value.vectors.subarray(c * size, (c + 1) * size), (from + c) * model.count + from);
  // of unit momentum, as other columns are
  const mass = turned(model.mass, mix, model.count, count);
  for (let c = from; c < count; c++) {
    const scale = 1 / Math.sqrt(mass[packedLength(c) + c]);
    for (let k = from; k < end; k++) mix[c * model.count + k] *= scale;
  }
  const all = Uint32Array.from({ length: count }, (_, i) => i);
  const into = (a: Float64Array): Float64Array => turned(a, mix, model.count, count);
  const n = model.vectors.length / model.count;
  const trimmedVectors = (): Float64Array => {
    const out = new Float64Array(count * n);
    out.set(model.vectors.subarray(0, from * n));
    const share = new Float64Array(kept * size);
    for (let c = 0; c < kept; c++)
      share.set(mix.subarray((from + c) * model.count + from, (from + c) * model.count + end), c * size);
    out.set(blockCombined(share, model.vectors.subarray(from * n, end * n), n, source), from * n);
    return out;
  };
  return done({
    ...model,
    count,
    blocks: [{ parameter: block.parameter, from, probes: from + Math.min(kept, corrections), end: count }],
    stiffness: into(model.stiffness),
    mass: into(model.mass),
    loss: into(model.loss),
    terms: model.terms.map((term) => ({
      ...term,
      columns: all,
      stiffness: term.stiffness.map(into),
      mass: term.mass.map(into),
      loss: term.loss.map(into),
    })),
    vectors: trimmedVectors(),
    loads: timesTransposed(model.loads, mix, model.count, count),
  });
}

/** A B, size x size. */
function product(a: Float64Array, b: Float64Array, size: number): Float64Array {
  return rows(a, b, size, size, size);
}

/** a (count x inner) times b (inner x n). */
function rows(a: Float64Array, b: Float64Array, inner: number, count: number, n: number): Float64Array {
  const out = new Float64Array(count * n);
  for (let i = 0; i < count; i++) {
    const to = out.subarray(i * n, (i + 1) * n);
    for (let k = 0; k < inner; k++) {
      const f = a[i * inner + k];
      if (f === 0) continue;
      const line = b.subarray(k * n, (k + 1) * n);
      for (let j = 0; j < n; j++) to[j] += f * line[j];
    }
  }
  return out;
}

/** a (lines x inner) times mix' (inner x count). */
function timesTransposed(a: Float64Array, mix: Float64Array, inner: number, count: number): Float64Array {
  const lines = a.length / inner;
  const out = new Float64Array(lines * count);
  for (let l = 0; l < lines; l++) {
    for (let c = 0; c < count; c++) {
      let sum = 0;
      for (let k = 0; k < inner; k++) sum += a[l * inner + k] * mix[c * inner + k];
      out[l * count + c] = sum;
    }
  }
  return out;
}

/** mix A mix', packed from packed. */
function turned(a: Float64Array, mix: Float64Array, inner: number, count: number): Float64Array {
  const full = new Float64Array(inner * inner);
  for (let i = 0; i < inner; i++)
    for (let j = 0; j <= i; j++) full[i * inner + j] = full[j * inner + i] = a[packedLength(i) + j];
  const half = rows(mix, full, inner, count, inner);
  const out = new Float64Array(packedLength(count));
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < inner; k++) sum += half[i * inner + k] * mix[j * inner + k];
      out[packedLength(i) + j] = sum;
    }
  }
  return out;
}
