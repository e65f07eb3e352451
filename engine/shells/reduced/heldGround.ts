import {
  type Context,
  done,
  factorize,
  type Outcome,
  type SparseSymmetric,
  solveFactored,
  symmetricMultiply,
} from "#engine/numerics";
import { motionsUnder } from "../body/motionRows.ts";
import { layRib } from "./layRib.ts";
import type { ReducedModel, ReducibleStructure, StructureChange } from "./reducedModel.ts";
import type { RibGround } from "./ribGround.ts";

/** A rib's ground and the structure that it is part of. */
export interface HeldGround {
  readonly ground: RibGround;
  readonly structure: ReducibleStructure;
  /** rows x rows of the ground: inverse of the structure's stiffness there without the rib's beam, all else held. */
  readonly flexibility: Float64Array;
  /** The structure's mass and loss there, without the rib. */
  readonly mass: SparseSymmetric;
  readonly lossStiffness: SparseSymmetric;
}

/**
 * How the ground follows a reduced model's columns where its rib is taken off: forces on the ground, and what it answers to them, all
 * else held. By column (count x rows) or pairs of columns (count x count).
 */
export interface GroundAnswers {
  readonly vectors: Float64Array;
  /** To what is left over where the rib is taken off. */
  readonly own: Float64Array;
  /** To the forces of stiffness, mass and loss alone. */
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
  readonly loss: Float64Array;
  /** What following `own` alone adds to the three matrices. */
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
  const one = new Float64Array(m * m);
  for (let i = 0; i < m; i++) one[i * m + i] = 1;
  return done({ ground, structure, flexibility: solveFactored(factor.value, one, m), mass, lossStiffness });
}

/** Fails as `layRib` does. */
export function groundAnswers(
  { ground, structure, flexibility }: HeldGround,
  model: ReducedModel,
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
  const stiff = ribForces("stiffness");
  const forces = (which: Which): Float64Array => {
    const out = rowsTimes(structure[which], rows, model.vectors, count);
    const less = which === "stiffness" ? stiff : ribForces(which);
    return out.map((v, i) => v + less[i]);
  };
  const [k, w, l] = [forces("stiffness"), forces("mass"), forces("lossStiffness")];
  // with the beam where it lies every column is in balance, with inertia or loads; taking it off leaves its forces over
  const left = stiff;
  const [own, stiffness, mass, loss] = [left, k, w, l].map((f) => timesSquare(f, flexibility, count));
  const gram = (a: Float64Array, b: Float64Array): Float64Array => products(a, b, count);
  const pair = (a: Float64Array): Float64Array => {
    const out = gram(own, a);
    return out.map((v, i) => -v - out[(i % count) * count + Math.floor(i / count)]);
  };
  const energy = gram(own, left);
  const across = pair(k);
  return done({
    vectors,
    own,
    stiffness,
    mass,
    loss,
    added: [across.map((v, i) => v + energy[i]), pair(w), pair(l)],
  });
}

type Which = "stiffness" | "mass" | "lossStiffness";

/** a (count x m) times a symmetric m x m matrix. */
function timesSquare(a: Float64Array, square: Float64Array, count: number): Float64Array {
  const m = a.length / count;
  const out = new Float64Array(a.length);
  for (let c = 0; c < count; c++) {
    const to = out.subarray(c * m, (c + 1) * m);
    for (let r = 0; r < m; r++) {
      const f = a[c * m + r];
      if (f === 0) continue;
      const line = square.subarray(r * m, (r + 1) * m);
      for (let k = 0; k < m; k++) to[k] += f * line[k];
    }
  }
  return out;
}

/** count x count: a_i . b_j. */
export function products(a: Float64Array, b: Float64Array, count: number): Float64Array {
  const m = a.length / count;
  const out = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    const x = a.subarray(i * m, (i + 1) * m);
    for (let j = 0; j < count; j++) {
      const y = b.subarray(j * m, (j + 1) * m);
      let sum = 0;
      for (let r = 0; r < m; r++) sum += x[r] * y[r];
      out[i * count + j] = sum;
    }
  }
  return out;
}

/** Some rows of A times vectors (count x n): count x rows. */
function rowsTimes(
  a: SparseSymmetric,
  rows: Uint32Array,
  vectors: Float64Array,
  count: number,
): Float64Array {
  const place = placesOf(rows, a.n);
  const row: number[] = [];
  const column: number[] = [];
  const value: number[] = [];
  for (let j = 0; j < a.n; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      const i = a.rowIndex[p];
      if (place[i] >= 0) {
        row.push(place[i]);
        column.push(j);
        value.push(a.values[p]);
      }
      if (i !== j && place[j] >= 0) {
        row.push(place[j]);
        column.push(i);
        value.push(a.values[p]);
      }
    }
  }
  const [r, c, v] = [Uint32Array.from(row), Uint32Array.from(column), Float64Array.from(value)];
  const m = rows.length;
  const out = new Float64Array(count * m);
  for (let k = 0; k < count; k++)
    for (let e = 0; e < r.length; e++) out[k * m + r[e]] += v[e] * vectors[k * a.n + c[e]];
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
