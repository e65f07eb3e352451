import {
  choleskyDense,
  choleskySolve,
  done,
  type KernelSource,
  type Outcome,
  type SparseSymmetric,
} from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import { type GroundAnswers, type HeldGround, products } from "./heldGround.ts";
import { packedLength, projected } from "./projectChange.ts";
import type { StructureChange } from "./reducedModel.ts";

/**
 * What a beam laid on the ground adds to a model's matrices on its columns, the ground near by following each column's motion at rest
 * (a motion e of the ground's rows beside the column's v, which a balance of forces gives: no rib is laid along a line without the
 * plate's bending right beside it, and no column knows the line). With F the ground's flexibility, P the beam's motions on the rows, A its
 * stiffness, G = P F P', y = F (forces the column leaves over), u = P (v + e) and n = A u:
 *   u + G n = P (v - y),   e = -y - F P' n
 * Packed, three matrices. Fails as the factor of 1 + G A does.
 */
export function followedBeam(
  beam: StructureChange,
  { flexibility, mass, lossStiffness }: Omit<HeldGround, "ground" | "structure">,
  answers: GroundAnswers,
  count: number,
  source: KernelSource,
): Outcome<readonly [stiffness: Float64Array, mass: Float64Array, loss: Float64Array]> {
  const { motions } = beam;
  const size = motions.start.length - 1;
  const stiff = full(beam.stiffness);
  const pf = spreadOver(motions, flexibility);
  const g = onStations(motions, pf, size);
  const at = (a: Float64Array): Float64Array => onStations(motions, a, count);
  const [v, y, k, w, l] = [answers.vectors, answers.own, answers.stiffness, answers.mass, answers.loss].map(
    at,
  );
  // A = R R'; with t = R' u: (1 + R' G R) t = R' (v - y), n = R t
  const ridged = stiff.slice();
  for (const kind of [0, 3]) {
    // displacements, then turns, of which the one in the plate's plane has no stiffness at all
    const own = Array.from({ length: size }, (_, i) => i * size + i).filter(
      (_, i) => i % 6 < 3 === (kind === 0),
    );
    const most = own.reduce((a, d) => Math.max(a, stiff[d]), 0);
    for (const d of own) ridged[d] += ridge * most;
  }
  const root = choleskyDense(ridged, size);
  if (!root.ok) return root;
  const r = root.value;
  const one = new Float64Array(size * size);
  const gr = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let q = 0; q < size; q++) {
      const f = g[i * size + q];
      for (let j = 0; j <= q; j++) gr[i * size + j] += f * r[q * size + j];
    }
  }
  for (let q = 0; q < size; q++) {
    for (let i = 0; i <= q; i++) {
      const f = r[q * size + i];
      for (let j = 0; j <= i; j++) one[i * size + j] += f * gr[q * size + j];
    }
  }
  for (let i = 0; i < size; i++) {
    one[i * size + i] += 1;
    for (let j = 0; j < i; j++) one[j * size + i] = one[i * size + j];
  }
  const factor = choleskyDense(one, size);
  if (!factor.ok) return factor;
  const right = new Float64Array(count * size);
  for (let c = 0; c < count; c++)
    for (let q = 0; q < size; q++) {
      const f = v[c * size + q] - y[c * size + q];
      for (let i = 0; i <= q; i++) right[c * size + i] += r[q * size + i] * f;
    }
  const t = choleskySolve(factor.value, size, right, count);
  const n = new Float64Array(count * size);
  for (let c = 0; c < count; c++)
    for (let q = 0; q < size; q++) {
      let sum = 0;
      for (let i = 0; i <= q; i++) sum += r[q * size + i] * t[c * size + i];
      n[c * size + q] = sum;
    }
  const gn = times(g, n, size, count);
  const u = v.map((value, i) => value - y[i] - gn[i]);

  const e = answers.own.map((value) => -value);
  const m = e.length / count;
  for (let c = 0; c < count; c++) {
    const to = e.subarray(c * m, (c + 1) * m);
    for (let q = 0; q < size; q++) {
      const f = n[c * size + q];
      const line = pf.subarray(q * m, (q + 1) * m);
      for (let i = 0; i < m; i++) to[i] -= f * line[i];
    }
  }
  const [inertia] = projected([mass], identity(m), e, count, source);
  const [rubbed] = projected([lossStiffness], identity(m), e, count, source);
  const energy = products(
    n,
    u.map((value, i) => value + gn[i] + y[i]),
    count,
  );
  const [nk, nw, nl, ny] = [k, w, l, y].map((a) => products(n, a, count));
  const weight = products(u, times(full(beam.mass), u, size, count), count);
  const lost = products(u, times(full(beam.lossStiffness), u, size, count), count);
  const [addK, addM, addL] = answers.added;
  const out = [0, 1, 2].map(() => new Float64Array(packedLength(count)));
  for (let c = 0, p = 0; c < count; c++) {
    for (let d = 0; d <= c; d++, p++) {
      const [a, b] = [c * count + d, d * count + c];
      // n'u + n'G n + n'y + y'n, written with n'(u + G n + y) and y'n
      out[0][p] = addK[a] + energy[a] + ny[b] - nk[a] - nk[b];
      out[1][p] = inertia[p] + addM[a] + weight[a] - nw[a] - nw[b];
      out[2][p] = rubbed[p] + addL[a] + lost[a] - nl[a] - nl[b];
    }
  }
  return done([out[0], out[1], out[2]]);
}

/** Share of the largest entry of its diagonal that keeps a free beam's stiffness positive. */
const ridge = 1e-9;

/** The beam's motions (size) under each of count vectors on the rows: count x size. */
function onStations({ start, row, weight }: MotionMap, a: Float64Array, count: number): Float64Array {
  const m = a.length / count;
  const size = start.length - 1;
  const out = new Float64Array(count * size);
  for (let c = 0; c < count; c++) {
    for (let i = 0; i < size; i++) {
      let sum = 0;
      for (let p = start[i]; p < start[i + 1]; p++) sum += weight[p] * a[c * m + row[p]];
      out[c * size + i] = sum;
    }
  }
  return out;
}

/** P F, size x rows. */
function spreadOver({ start, row, weight }: MotionMap, f: Float64Array): Float64Array {
  const m = Math.sqrt(f.length);
  const size = start.length - 1;
  const out = new Float64Array(size * m);
  for (let i = 0; i < size; i++) {
    const to = out.subarray(i * m, (i + 1) * m);
    for (let p = start[i]; p < start[i + 1]; p++) {
      const line = f.subarray(row[p] * m, (row[p] + 1) * m);
      for (let k = 0; k < m; k++) to[k] += weight[p] * line[k];
    }
  }
  return out;
}

function identity(n: number): MotionMap {
  return {
    start: Uint32Array.from({ length: n + 1 }, (_, i) => i),
    row: Uint32Array.from({ length: n }, (_, i) => i),
    weight: new Float64Array(n).fill(1),
  };
}

function full(a: SparseSymmetric): Float64Array {
  const out = new Float64Array(a.n * a.n);
  for (let j = 0; j < a.n; j++)
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++)
      out[j * a.n + a.rowIndex[p]] = out[a.rowIndex[p] * a.n + j] = a.values[p];
  return out;
}

/** A symmetric size x size matrix times count vectors. */
function times(a: Float64Array, x: Float64Array, size: number, count: number): Float64Array {
  const out = new Float64Array(count * size);
  for (let c = 0; c < count; c++) {
    const from = x.subarray(c * size, (c + 1) * size);
    for (let i = 0; i < size; i++) {
      const line = a.subarray(i * size, (i + 1) * size);
      let sum = 0;
      for (let j = 0; j < size; j++) sum += line[j] * from[j];
      out[c * size + i] = sum;
    }
  }
  return out;
}
