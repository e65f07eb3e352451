import {
  type Context,
  done,
  factorize,
  type KernelSource,
  type Outcome,
  type SparseSymmetric,
  solveFactored,
  symmetricMultiply,
  typescriptKernels,
} from "#engine/numerics";
import { motionsUnder } from "../body/motionRows.ts";
import { blockMultiply, dotProducts, productRoom } from "./dotProducts.ts";
import { layRib } from "./layRib.ts";
import type { ReducedModel, ReducibleStructure, StructureChange } from "./reducedModel.ts";
import type { RibGround } from "./ribGround.ts";

/** A rib's ground in the structure that it is part of. Working state, for one worker. */
export interface HeldGround {
  readonly ground: RibGround;
  /** The ground's rows of the structure's matrices. */
  readonly beside: Readonly<Record<Which, SomeRows>>;
  readonly near: NearGround;
  /** The near ground's answers to forces on the ground, row by row of each. */
  readonly solve: (forces: Float64Array, columns: number) => Float64Array;
  /** The structure's mass and loss there, without the rib. */
  readonly mass: SparseSymmetric;
  readonly lossStiffness: SparseSymmetric;
}

/** How the ground answers forces on its rows, all else held: rows x rows, symmetric. Plain data. */
export interface NearGround {
  /** F: inverse of the structure's stiffness there without the rib's beam. */
  readonly flexibility: Float64Array;
  /** F M F and F D F, of the structure's mass and loss there. */
  readonly inertia: Float32Array;
  readonly loss: Float32Array;
}

/**
 * How the ground follows a reduced model's columns where its rib is taken off: by column (count x rows) or pairs of columns (count x count).
 * With f the forces that a column leaves over there, y = F f what the ground answers, and k, m, d what it answers to the column's forces
 * of stiffness, mass and loss alone:
 */
export interface GroundAnswers {
  readonly vectors: Float64Array;
  /** The column's motion less y. */
  readonly without: Float64Array;
  /** y - k, F M y - m, F D y - d. */
  readonly across: readonly [stiffness: Float64Array, mass: Float64Array, loss: Float64Array];
  /** What following by y alone adds to the three matrices. */
  readonly added: readonly [stiffness: Float64Array, mass: Float64Array, loss: Float64Array];
}

/** Fails as `layRib` and `factorize` do. */
export function heldGround(
  ground: RibGround,
  structure: ReducibleStructure,
  ctx: Context,
): Outcome<HeldGround> {
  const own = layRib(ground, ground.rib);
  if (!own.ok) return own;
  const m = ground.rows.length;
  const [stiffness, mass, lossStiffness] = (["stiffness", "mass", "lossStiffness"] as const).map((which) =>
    restricted(structure[which], ground.rows, [own.value[0]], which),
  );
  const factor = factorize(stiffness, {}, ctx);
  if (!factor.ok) return factor;
  const solve = (forces: Float64Array, columns: number): Float64Array =>
    solveFactored(factor.value, forces, columns);
  const one = new Float64Array(m * m);
  for (let i = 0; i < m; i++) one[i * m + i] = 1;
  const flexibility = solve(one, m);
  const through = (a: SparseSymmetric): Float32Array => {
    const pushed = blockMultiply(a, flexibility, ctx.kernels ?? typescriptKernels);
    return Float32Array.from(solve(pushed, m));
  };
  const near = { flexibility, inertia: through(mass), loss: through(lossStiffness) };
  const beside = {
    stiffness: someRows(structure.stiffness, ground.rows),
    mass: someRows(structure.mass, ground.rows),
    lossStiffness: someRows(structure.lossStiffness, ground.rows),
  };
  return done({ ground, beside, near, solve, mass, lossStiffness });
}

/** Fails as `layRib` does. */
export function groundAnswers(
  { ground, beside, solve, mass, lossStiffness }: HeldGround,
  model: ReducedModel,
  source: KernelSource,
): Outcome<GroundAnswers> {
  const { rows } = ground;
  const { count } = model;
  const m = rows.length;
  const n = model.vectors.length / count;
  const vectors = new Float64Array(count * m);
  for (let c = 0; c < count; c++)
    for (let r = 0; r < m; r++) vectors[c * m + r] = model.vectors[c * n + rows[r]];
  const rib = layRib(ground, ground.rib);
  if (!rib.ok) return rib;
  const ribForces = (which: Which): Float64Array => {
    const out = new Float64Array(count * m);
    takeForces(rib.value[0], which, vectors, out, count);
    return out;
  };
  // with the beam where it lies every column is in balance, with inertia or loads; taking it off leaves its forces over
  const left = ribForces("stiffness");
  const answered = (which: Which): { readonly forces: Float64Array; readonly answer: Float64Array } => {
    const forces = rowsTimes(beside[which], model.vectors, count);
    const less = which === "stiffness" ? left : ribForces(which);
    for (let i = 0; i < forces.length; i++) forces[i] += less[i];
    return { forces, answer: solve(forces, count) };
  };
  const [k, w, l] = [answered("stiffness"), answered("mass"), answered("lossStiffness")];
  const own = solve(left, count);
  const out = { vectors, without: vectors.map((v, i) => v - own[i]) };
  const kernels = source(productRoom(2 * count, m));
  const gram = (a: Float64Array, b: Float64Array): Float64Array => dotProducts(a, b, m, kernels);
  const twice = (a: Float64Array): Float64Array =>
    a.map((v, i) => v + a[(i % count) * count + Math.floor(i / count)]);
  const follow = (
    a: SparseSymmetric,
    forces: Float64Array,
    answer: Float64Array,
  ): readonly [across: Float64Array, added: Float64Array] => {
    const pushed = blockMultiply(a, own, source);
    const shared = twice(gram(own, forces));
    return [
      solve(pushed, count).map((v, i) => v - answer[i]),
      gram(own, pushed).map((v, i) => v - shared[i]),
    ];
  };
  const energy = twice(gram(own, k.forces));
  const [acrossM, addedM] = follow(mass, w.forces, w.answer);
  const [acrossL, addedL] = follow(lossStiffness, l.forces, l.answer);
  return done({
    ...out,
    across: [own.map((v, i) => v - k.answer[i]), acrossM, acrossL],
    added: [gram(own, left).map((v, i) => v - energy[i]), addedM, addedL],
  });
}

type Which = "stiffness" | "mass" | "lossStiffness";

/** Rows of a matrix on n columns: of row r the entries start[r] .. start[r+1]-1. */
interface SomeRows {
  readonly n: number;
  readonly start: Uint32Array;
  readonly column: Uint32Array;
  readonly value: Float64Array;
}

function someRows(a: SparseSymmetric, rows: Uint32Array): SomeRows {
  const place = placesOf(rows, a.n);
  const start = new Uint32Array(rows.length + 2);
  const each = (take: (row: number, column: number, value: number) => void): void => {
    for (let j = 0; j < a.n; j++) {
      for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
        const i = a.rowIndex[p];
        if (place[i] >= 0) take(place[i], j, a.values[p]);
        if (i !== j && place[j] >= 0) take(place[j], i, a.values[p]);
      }
    }
  };
  each((r) => start[r + 2]++);
  for (let r = 2; r < start.length; r++) start[r] += start[r - 1];
  const column = new Uint32Array(start[rows.length + 1]);
  const value = new Float64Array(column.length);
  each((r, c, v) => {
    const at = start[r + 1]++;
    column[at] = c;
    value[at] = v;
  });
  return { n: a.n, start, column, value };
}

/** Of vectors (count x n): count x rows. */
function rowsTimes(
  { n, start, column, value }: SomeRows,
  vectors: Float64Array,
  count: number,
): Float64Array {
  const m = start.length - 2;
  const out = new Float64Array(count * m);
  for (let k = 0; k < count; k++) {
    const x = vectors.subarray(k * n, (k + 1) * n);
    for (let r = 0; r < m; r++) {
      let sum = 0;
      for (let e = start[r]; e < start[r + 1]; e++) sum += value[e] * x[column[e]];
      out[k * m + r] = sum;
    }
  }
  return out;
}

/** out -= T' a T x for each of several vectors x on the ground's rows. */
function takeForces(
  { motions, ...matrices }: StructureChange,
  which: Which,
  x: Float64Array,
  out: Float64Array,
  count: number,
): void {
  const m = out.length / count;
  for (let k = 0; k < count; k++) {
    const force = symmetricMultiply(matrices[which], motionsUnder(motions, x.subarray(k * m, (k + 1) * m)));
    for (let i = 0; i < force.length; i++)
      for (let p = motions.start[i]; p < motions.start[i + 1]; p++)
        out[k * m + motions.row[p]] -= motions.weight[p] * force[i];
  }
}

/** A on some rows alone, less changes told in these rows. */
function restricted(
  a: SparseSymmetric,
  rows: Uint32Array,
  less: readonly StructureChange[],
  which: Which,
): SparseSymmetric {
  const m = rows.length;
  const place = placesOf(rows, a.n);
  const columns = Array.from({ length: m }, (_, i) => new Map<number, number>([[i, 0]]));
  const add = (i: number, j: number, value: number): void => {
    const column = columns[Math.min(i, j)];
    const row = Math.max(i, j);
    column.set(row, (column.get(row) ?? 0) + value);
  };
  for (const j of rows)
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++)
      if (place[a.rowIndex[p]] >= 0) add(place[a.rowIndex[p]], place[j], a.values[p]);
  for (const { motions, ...matrices } of less) {
    const b = matrices[which];
    const { start, row, weight } = motions;
    for (let j = 0; j < b.n; j++) {
      for (let e = b.colStart[j]; e < b.colStart[j + 1]; e++) {
        const i = b.rowIndex[e];
        if (b.values[e] === 0) continue;
        for (let p = start[i]; p < start[i + 1]; p++) {
          for (let q = start[j]; q < start[j + 1]; q++) {
            if (i === j && row[p] < row[q]) continue;
            const twice = i !== j && row[p] === row[q] ? 2 : 1;
            add(row[p], row[q], -twice * weight[p] * weight[q] * b.values[e]);
          }
        }
      }
    }
  }
  const colStart = new Uint32Array(m + 1);
  const rowIndex: number[] = [];
  const values: number[] = [];
  columns.forEach((column, j) => {
    for (const [i, value] of [...column].sort((p, q) => p[0] - q[0])) {
      rowIndex.push(i);
      values.push(value);
    }
    colStart[j + 1] = rowIndex.length;
  });
  return { n: m, colStart, rowIndex: Uint32Array.from(rowIndex), values: Float64Array.from(values) };
}

function placesOf(rows: Uint32Array, n: number): Int32Array {
  const place = new Int32Array(n).fill(-1);
  rows.forEach((r, i) => {
    place[r] = i;
  });
  return place;
}
