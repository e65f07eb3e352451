import {
  type Context,
  done,
  failed,
  type KernelSource,
  type Outcome,
  symmetricMultiply,
  typescriptKernels,
} from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import { blockBasis, combined, mixed } from "./blockBasis.ts";
import { correctionLoads } from "./correctionLoads.ts";
import { takeOut } from "./orthogonalTo.ts";
import { packedLength, projected } from "./projectChange.ts";
import type {
  NominalModes,
  ReducedBlock,
  ReducedModel,
  ReducedParameter,
  ReducedTerm,
  ReducibleStructure,
  StructureChange,
} from "./reducedModel.ts";

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
  const { mass } = structure;
  const { n } = mass;
  const source = ctx.kernels ?? typescriptKernels;
  const loadCount = loads.length / n;
  const wanted = parameters.map((p) =>
    p.corrections + p.probes === 0
      ? new Float64Array(0)
      : (p.loads ?? correctionLoads(p, nominal, p.corrections + p.probes, source)),
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
  takeOut(nominal.vectors, symmetricMultiply(mass, nominal.vectors, modes), answers, n, source);
  const raw = new Float64Array(nominal.vectors.length + answers.length);
  raw.set(nominal.vectors);
  raw.set(answers, nominal.vectors.length);
  const packed = nominalMatrices(
    structure,
    raw,
    nominal.values,
    modes,
    columnGroups(parameters, wanted, modes, loadCount, n),
    source,
  );
  ctx.progress(0.55);

  const groups = [loadCount];
  parameters.forEach((p, i) => {
    const made = wanted[i].length / n;
    groups.push(Math.min(p.corrections, made), Math.max(0, made - p.corrections));
  });
  const kept = blockBasis(packed[1], modes, groups);
  const count = kept.starts[kept.starts.length - 1];
  const blocks = parameters.map(({ id: parameter }, i): ReducedBlock => {
    const [from, probes, end] = kept.starts.subarray(2 * i + 1, 2 * i + 4);
    return { parameter, from, probes, end };
  });
  const vectors = combined(raw, kept.mix, count, n);
  const [k, m, l] = packed.map((a) => mixed(a, kept.mix, raw.length / n, count));
  const terms: ReducedTerm[] = [];
  for (const [i, p] of parameters.entries()) {
    if (ctx.cancelled()) return failed("cancelled", "while the reduced model was made");
    ctx.progress(0.6 + (0.4 * i) / parameters.length);
    const columns = columnsOf(p, blocks, modes + kept.starts[1] - kept.starts[0]);
    const each = projectedKnots(p, vectors, count, source, columns);
    terms.push({
      parameter: p.id,
      borrows: p.borrows,
      sees: p.sees,
      factors: Float64Array.from(p.knots, (knot) => knot.factor),
      columns,
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

/** By knot: its changes of stiffness, mass and loss, projected. Those of one pattern, most often all of a part, go together. */
function projectedKnots(
  { knots }: ReducedParameter,
  vectors: Float64Array,
  count: number,
  source: KernelSource,
  columns: Uint32Array,
): readonly Float64Array[][] {
  const out = knots.map(() => [0, 1, 2].map(() => new Float64Array(packedLength(columns.length))));
  let left = knots.flatMap(({ changes }, knot) => changes.map((change) => ({ knot, change })));
  while (left.length > 0) {
    const [{ change: first }] = left;
    const alike = left.filter(({ change }) => samePattern(change, first));
    left = left.filter((one) => !alike.includes(one));
    if (first.stiffness.n === 0) continue;
    const matrices = alike.flatMap(({ change: c }) => [c.stiffness, c.mass, c.lossStiffness]);
    projected(matrices, first.motions, vectors, count, source, columns).forEach((a, q) => {
      const to = out[alike[Math.floor(q / 3)].knot][q % 3];
      for (let i = 0; i < a.length; i++) to[i] += a[i];
    });
  }
  return out;
}

function samePattern(a: StructureChange, b: StructureChange): boolean {
  return (
    a === b ||
    (equal(a.stiffness.colStart, b.stiffness.colStart) &&
      equal(a.stiffness.rowIndex, b.stiffness.rowIndex) &&
      equal(a.motions.start, b.motions.start) &&
      equal(a.motions.row, b.motions.row) &&
      equal(a.motions.weight, b.motions.weight))
  );
}

function equal(a: ArrayLike<number>, b: ArrayLike<number>): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** Raw columns that may meet each other: the answers to loads with the corrections of parameters that see one another. */
function columnGroups(
  parameters: readonly ReducedParameter[],
  wanted: readonly Float64Array[],
  modes: number,
  loadCount: number,
  n: number,
): Uint32Array[] {
  const leader = parameters.map((_, i) => i);
  const lead = (i: number): number => (leader[i] === i ? i : lead(leader[i]));
  parameters.forEach((p, i) => {
    parameters.forEach((q, j) => {
      if (p.sees.includes(q.id)) leader[lead(j)] = lead(i);
    });
  });
  const groups = new Map<number, number[]>();
  let at = modes + loadCount;
  wanted.forEach((w, i) => {
    const group = groups.get(lead(i)) ?? [];
    groups.set(lead(i), group);
    for (let c = 0; c < w.length / n; c++) group.push(at++);
  });
  const loads = Array.from({ length: loadCount }, (_, i) => modes + i);
  const all = [...groups.values()].filter((g) => g.length > 0).map((g) => [...loads, ...g]);
  return (all.length > 0 ? all : [loads]).map((g) => Uint32Array.from(g).sort());
}

/**
 * K, M and loss on the raw columns, packed. The modes are known: K diagonal, M one, neither couples them to what was made
 * orthogonal to them; columns of different groups are never used together and their entries stay zero.
 */
function nominalMatrices(
  { stiffness, mass, lossStiffness }: ReducibleStructure,
  raw: Float64Array,
  values: Float64Array,
  modes: number,
  groups: readonly Uint32Array[],
  source: KernelSource,
): readonly [k: Float64Array, m: Float64Array, loss: Float64Array] {
  const { n } = mass;
  const count = raw.length / n;
  const rows = identity(n);
  const out = [0, 1, 2].map(() => new Float64Array(packedLength(count)));
  const [k, m, loss] = out;
  for (let i = 0; i < modes; i++) {
    const at = packedLength(i) + i;
    m[at] = 1;
    if (i >= modes - values.length) k[at] = values[i - (modes - values.length)];
  }
  const place = (to: Float64Array, from: Float64Array, columns: Uint32Array): void => {
    for (let i = 0, p = 0; i < columns.length; i++)
      for (let j = 0; j <= i; j++) to[packedLength(columns[i]) + columns[j]] = from[p++];
  };
  const first = Array.from({ length: modes }, (_, i) => i);
  for (const group of groups) {
    if (group.length > 0) {
      const [kg, mg] = projected([stiffness, mass], rows, raw, count, source, group);
      place(k, kg, group);
      place(m, mg, group);
    }
    const wide = Uint32Array.from([...first, ...group]);
    place(loss, projected([lossStiffness], rows, raw, count, source, wide)[0], wide);
  }
  return [k, m, loss];
}

/** Modes and answers to loads, then the blocks of the parameter, of the one it borrows from, and of those it sees. */
function columnsOf(p: ReducedParameter, blocks: readonly ReducedBlock[], fixed: number): Uint32Array {
  const columns = Array.from({ length: fixed }, (_, i) => i);
  for (const block of blocks) {
    if (block.parameter !== p.id && block.parameter !== p.borrows && !p.sees.includes(block.parameter))
      continue;
    for (let c = block.from; c < block.end; c++) columns.push(c);
  }
  return Uint32Array.from(columns);
}

function identity(n: number): MotionMap {
  return {
    start: Uint32Array.from({ length: n + 1 }, (_, i) => i),
    row: Uint32Array.from({ length: n }, (_, i) => i),
    weight: new Float64Array(n).fill(1),
  };
}
