import {
  choleskyDense,
  choleskySolve,
  done,
  type KernelSource,
  lowestDense,
  type Outcome,
  typescriptKernels,
} from "#engine/numerics";
import { activeColumns, changedMatrix, type WeighedTerm } from "./activeColumns.ts";
import type { ReducedModel, ReducedPoint, ReducedSolution } from "./reducedModel.ts";

/**
 * The probes see a part of what the basis lacks. With this factor the largest estimate among the first 30 modes lies between
 * a third of the largest error and twelve times it (proofs/shells/reduced.proof.ts): an order, not a bound.
 */
const probeFactor = 2;

/**
 * The `count` lowest elastic modes of the structure at a changed place. Takes part: rigid motions, nominal modes, answers to
 * loads, corrections of the parameters named and of what is `laid` beside. Fails with 'unknown-parameter', and as `lowestDense` does (a change that
 * takes away all mass).
 */
export function solveReduced(
  model: ReducedModel,
  point: ReducedPoint,
  count: number,
  source: KernelSource = typescriptKernels,
  laid: readonly WeighedTerm[] = [],
): Outcome<ReducedSolution> {
  const { rigidCount: r } = model;
  const chosen = activeColumns(model, point, laid);
  if (!chosen.ok) return chosen;
  const { columns, probes, parts } = chosen.value;
  const size = columns.length;
  const all = Uint32Array.from([...columns, ...probes]);
  const k = changedMatrix(all, model.stiffness, parts, "stiffness");
  const m = changedMatrix(all, model.mass, parts, "mass");
  const width = all.length;

  // rigid motions cost nothing at any place: the elastic columns less their rigid share in M(p)
  const elastic = size - r;
  const rigid = rigidShare(m, width, r, size);
  if (!rigid.ok) return rigid;
  const { share, own } = rigid.value;
  const ke = new Float64Array(elastic * elastic);
  const me = new Float64Array(elastic * elastic);
  for (let i = 0; i < elastic; i++) {
    for (let j = 0; j <= i; j++) {
      const at = (r + i) * width + r + j;
      let inertia = m[at];
      for (let q = 0; q < r; q++) inertia -= m[q * width + r + i] * share[q * elastic + j];
      ke[i * elastic + j] = k[at];
      me[i * elastic + j] = inertia;
    }
  }
  const solved = lowestDense(ke, me, elastic, count, source);
  if (!solved.ok) return solved;
  const { values, vectors } = solved.value;
  const found = values.length;
  const coordinates = new Float64Array((r + found) * size);
  for (let q = 0; q < r; q++) coordinates.set(own.subarray(q * r, q * r + r), q * size);
  for (let i = 0; i < found; i++) {
    const row = coordinates.subarray((r + i) * size, (r + i + 1) * size);
    row.set(vectors.subarray(i * elastic, (i + 1) * elastic), r);
    for (let q = 0; q < r; q++) {
      for (let j = 0; j < elastic; j++) row[q] -= share[q * elastic + j] * row[r + j];
    }
  }
  const error = probed(k, m, width, size, coordinates.subarray(r * size), values);
  if (!error.ok) return error;
  const answers = staticAnswers(model, columns, ke, elastic, r);
  if (!answers.ok) return answers;
  return done({
    columns,
    count: found,
    values,
    coordinates,
    error: error.value,
    answers: answers.value,
  });
}

/** share: r x elastic, M_rr^-1 M_re; own: r x r, rows M-orthonormal rigid motions. */
function rigidShare(
  m: Float64Array,
  width: number,
  r: number,
  size: number,
): Outcome<{ share: Float64Array; own: Float64Array }> {
  const elastic = size - r;
  const share = new Float64Array(r * elastic);
  const own = new Float64Array(r * r);
  if (r === 0) return done({ share, own });
  const mrr = new Float64Array(r * r);
  for (let i = 0; i < r; i++) for (let j = 0; j < r; j++) mrr[i * r + j] = m[i * width + j];
  const factor = choleskyDense(mrr, r);
  if (!factor.ok) return factor;
  const l = factor.value;
  for (let j = 0; j < elastic; j++) {
    const x = choleskySolve(
      l,
      r,
      Float64Array.from({ length: r }, (_, i) => m[i * width + r + j]),
    );
    for (let i = 0; i < r; i++) share[i * elastic + j] = x[i];
  }
  // rows of L^-T transposed: L own' ... own M own' = 1 with own = L^-1
  for (let c = 0; c < r; c++) {
    for (let i = c; i < r; i++) {
      let sum = i === c ? 1 : 0;
      for (let j = c; j < i; j++) sum -= l[i * r + j] * own[j * r + c];
      own[i * r + c] = sum / l[i * r + i];
    }
  }
  return done({ share, own });
}

/**
 * Second-order estimate by the probes: freeing them would lower w^2 by r' (K_tt - w^2 M_tt)^-1 r, r = (K - w^2 M)_tz z the
 * force the probes see. Relative, in frequency; infinite where the probes alone would be unstable.
 */
function probed(
  k: Float64Array,
  m: Float64Array,
  width: number,
  size: number,
  z: Float64Array,
  values: Float64Array,
): Outcome<Float64Array> {
  const t = width - size;
  if (t === 0) return done(new Float64Array(values.length));
  const block = (a: Float64Array): Float64Array => {
    const out = new Float64Array(t * t);
    for (let p = 0; p < t; p++) for (let q = 0; q < t; q++) out[p * t + q] = a[(size + p) * width + size + q];
    return out;
  };
  const own = lowestDense(block(k), block(m), t, t);
  if (!own.ok) return own;
  const error = new Float64Array(values.length);
  const force = new Float64Array(t);
  for (let i = 0; i < values.length; i++) {
    for (let p = 0; p < t; p++) {
      const row = (size + p) * width;
      force[p] = 0;
      for (let q = 0; q < size; q++) force[p] += (k[row + q] - values[i] * m[row + q]) * z[i * size + q];
    }
    let drop = 0;
    for (let c = 0; c < t; c++) {
      let along = 0;
      for (let p = 0; p < t; p++) along += own.value.vectors[c * t + p] * force[p];
      drop += own.value.values[c] > values[i] ? along ** 2 / (own.value.values[c] - values[i]) : Infinity;
    }
    error[i] = (probeFactor * drop) / (2 * values[i]);
  }
  return done(error);
}

/** loads x columns: K(p)^-1 of each load on the elastic columns. */
function staticAnswers(
  model: ReducedModel,
  columns: Uint32Array,
  k: Float64Array,
  elastic: number,
  r: number,
): Outcome<Float64Array> {
  const size = columns.length;
  const out = new Float64Array(model.loadCount * size);
  if (model.loadCount === 0) return done(out);
  const factor = choleskyDense(k, elastic);
  if (!factor.ok) return factor;
  for (let f = 0; f < model.loadCount; f++) {
    const b = Float64Array.from({ length: elastic }, (_, j) => model.loads[f * model.count + columns[r + j]]);
    out.set(choleskySolve(factor.value, elastic, b), f * size + r);
  }
  return done(out);
}
