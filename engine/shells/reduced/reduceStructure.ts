import {
  type Context,
  done,
  failed,
  type Outcome,
  symmetricMultiply,
  typescriptKernels,
} from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import { correctionLoads } from "./correctionLoads.ts";
import { projected } from "./projectChange.ts";
import type {
  NominalModes,
  ReducedBlock,
  ReducedModel,
  ReducedParameter,
  ReducedTerm,
  ReducibleStructure,
} from "./reducedModel.ts";

/** A vector of which less than this is left beside those before it adds nothing (norms, M0). */
const dependent = 1e-5;

/**
 * The reduced model of a structure around its nominal modes. `loads`: loads x n static loads whose nominal answer shall be
 * exact. `solve`: (K + s M)^-1 b for `columns` right-hand sides, column after column, s = 0 or small beside the first
 * mode. Fails with 'cancelled'.
 */
export function reduceStructure(
  structure: ReducibleStructure,
  nominal: NominalModes,
  parameters: readonly ReducedParameter[],
  loads: Float64Array,
  solve: (b: Float64Array, columns: number) => Float64Array,
  ctx: Context,
): Outcome<ReducedModel> {
  const { mass, stiffness, lossStiffness } = structure;
  const { n } = mass;
  const source = ctx.kernels ?? typescriptKernels;
  const loadCount = loads.length / n;
  const wanted = parameters.map((p) =>
    p.corrections + p.probes === 0
      ? new Float64Array(0)
      : correctionLoads(p, nominal, p.corrections + p.probes, source),
  );
  if (ctx.cancelled()) return failed("cancelled", "while the reduced model was made");
  ctx.progress(0.1);
  const right = new Float64Array(loads.length + wanted.reduce((sum, w) => sum + w.length, 0));
  right.set(loads);
  let at = loads.length;
  for (const w of wanted) {
    right.set(w, at);
    at += w.length;
  }
  const answers = right.length === 0 ? right : solve(right, right.length / n);
  if (ctx.cancelled()) return failed("cancelled", "while the reduced model was made");
  ctx.progress(0.4);

  const modes = nominal.rigidCount + nominal.values.length;
  const momenta = symmetricMultiply(mass, nominal.vectors, modes);
  const basis: Float64Array[] = Array.from({ length: modes }, (_, i) =>
    nominal.vectors.subarray(i * n, (i + 1) * n),
  );
  /** Adds what of the answers from .. to-1 is new beside the modes and the block begun at `first`. */
  const add = (from: number, to: number, first: number): void => {
    for (let c = from; c < to; c++) {
      const y = answers.subarray(c * n, (c + 1) * n);
      if (freed(y, mass, nominal.vectors, momenta, basis.slice(first))) basis.push(y);
    }
  };
  add(0, loadCount, modes);
  const blocks: ReducedBlock[] = [];
  at = loadCount;
  parameters.forEach((p, k) => {
    const made = wanted[k].length / n;
    const from = basis.length;
    add(at, at + Math.min(p.corrections, made), from);
    const probes = basis.length;
    add(at + Math.min(p.corrections, made), at + made, from);
    at += made;
    blocks.push({ parameter: p.id, from, probes, end: basis.length });
  });
  const count = basis.length;
  const vectors = new Float64Array(count * n);
  basis.forEach((v, i) => {
    vectors.set(v, i * n);
  });
  ctx.progress(0.5);
  const [k, m, l] = projected([stiffness, mass, lossStiffness], identity(n), vectors, count, source);
  const terms: ReducedTerm[] = [];
  for (const [i, p] of parameters.entries()) {
    if (ctx.cancelled()) return failed("cancelled", "while the reduced model was made");
    ctx.progress(0.6 + (0.4 * i) / parameters.length);
    const each = p.knots.map(({ change: c }) =>
      projected([c.stiffness, c.mass, c.lossStiffness], c.motions, vectors, count, source),
    );
    terms.push({
      parameter: p.id,
      factors: Float64Array.from(p.knots, (knot) => knot.factor),
      stiffness: each.map((e) => e[0]),
      mass: each.map((e) => e[1]),
      loss: each.map((e) => e[2]),
    });
  }
  const work = new Float64Array(loadCount * count);
  for (let f = 0; f < loadCount; f++) {
    for (let c = 0; c < count; c++) {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += loads[f * n + i] * vectors[c * n + i];
      work[f * count + c] = sum;
    }
  }
  ctx.progress(1);
  return done({
    count,
    rigidCount: nominal.rigidCount,
    values: nominal.values,
    loadCount,
    blocks,
    stiffness: k,
    mass: m,
    loss: l,
    terms,
    vectors,
    loads: work,
  });
}

/** Takes the modes and `others` (M-orthonormal) out of y and normalises it, in place; false if nothing new is left. */
function freed(
  y: Float64Array,
  mass: ReducibleStructure["mass"],
  modes: Float64Array,
  momenta: Float64Array,
  others: readonly Float64Array[],
): boolean {
  const n = y.length;
  const before = Math.sqrt(dot(y, symmetricMultiply(mass, y), n));
  for (let pass = 0; pass < 2; pass++) {
    for (let at = 0; at < modes.length; at += n) {
      let f = 0;
      for (let i = 0; i < n; i++) f += momenta[at + i] * y[i];
      for (let i = 0; i < n; i++) y[i] -= f * modes[at + i];
    }
    if (others.length === 0) continue;
    const my = symmetricMultiply(mass, y);
    for (const other of others) {
      const f = dot(other, my, n);
      for (let i = 0; i < n; i++) y[i] -= f * other[i];
    }
  }
  const size = Math.sqrt(dot(y, symmetricMultiply(mass, y), n));
  if (!(size > dependent * before)) return false;
  for (let i = 0; i < n; i++) y[i] /= size;
  return true;
}

function dot(x: Float64Array, y: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += x[i] * y[i];
  return sum;
}

function identity(n: number): MotionMap {
  return {
    start: Uint32Array.from({ length: n + 1 }, (_, i) => i),
    row: Uint32Array.from({ length: n }, (_, i) => i),
    weight: new Float64Array(n).fill(1),
  };
}
