import {
  choleskyDense,
  done,
  type KernelSource,
  type Kernels,
  type Outcome,
  type SparseSymmetric,
} from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import { dotProducts, productRoom } from "./dotProducts.ts";
import type { GroundAnswers, NearGround } from "./heldGround.ts";
import type { LaidBeam } from "./laidBeam.ts";
import { packedLength, projected } from "./projectChange.ts";

/**
 * What a beam laid on the ground adds to a model's matrices on its columns, the ground near by following each column's motion at rest
 * (a motion e of the ground's rows beside the column's v, which a balance of forces gives: no rib is laid along a line without the
 * plate's bending right beside it, and no column knows the line). With F the ground's flexibility, P the beam's motions on the rows, A its
 * stiffness, G = P F P', y = F (forces the column leaves over), u = P (v + e) and n = A u:
 *   u + G n = P (v - y),   e = -y - F P' n
 * Packed, three matrices. Fails as the factor of 1 + G A does.
 */
export function followedBeam(
  beam: LaidBeam,
  near: NearGround,
  answers: GroundAnswers,
  count: number,
  source: KernelSource,
): Outcome<readonly [stiffness: Float64Array, mass: Float64Array, loss: Float64Array]> {
  const { motions } = beam;
  const size = motions.start.length - 1;
  const followers = beam.following.length / size;
  const kernels = source(productRoom(size + Math.max(count, size), size));
  const [g, inertia, rub] = betweenStations(motions, [near.flexibility, near.inertia, near.loss]);
  const [x, k, w, l] = [answers.without, ...answers.across].map((a) => onStations(motions, a, count));
  const found = beamForces(full(beam.stiffness), g, x, count, kernels);
  if (!found.ok) return found;
  const n = found.value;
  const times = (a: Float64Array): Float64Array => dotProducts(n, a, size, kernels);
  const gn = times(g);
  const u = x.map((v, i) => v - gn[i]);
  // 2 n . (k + x / 2) and so on, of which the symmetric part is taken
  const half = (a: Float64Array, b: Float64Array): Float64Array => a.map((v, i) => v + b[i] / 2);
  const shared = [half(k, x), half(w, times(inertia)), half(l, times(rub))].map(times);
  // inertia and loss of the beam with what follows its stations
  const behind = dotProducts(u, beam.following, size, kernels);
  const whole = new Float64Array(count * (size + followers));
  for (let c = 0; c < count; c++) {
    whole.set(u.subarray(c * size, (c + 1) * size), c * (size + followers));
    whole.set(behind.subarray(c * followers, (c + 1) * followers), c * (size + followers) + size);
  }
  const own = projected([beam.mass, beam.lossStiffness], identity(size + followers), whole, count, source);
  const packed = shared.map((a, q) => {
    const add = answers.added[q];
    const out = q === 0 ? new Float64Array(packedLength(count)) : own[q - 1];
    for (let c = 0, p = 0; c < count; c++)
      for (let d = 0; d <= c; d++, p++) out[p] += add[c * count + d] + a[c * count + d] + a[d * count + c];
    return out;
  });
  return done([packed[0], packed[1], packed[2]]);
}

/** n = A (1 + G A)^-1 x of count vectors x: A = R R', 1 + R' G R = L L', H = L^-1 R', n = H' H x. */
function beamForces(
  stiff: Float64Array,
  g: Float64Array,
  x: Float64Array,
  count: number,
  kernels: Kernels,
): Outcome<Float64Array> {
  const size = x.length / count;
  for (const kind of [0, 3]) {
    // displacements, then turns, of which the one in the plate's plane has no stiffness at all
    const own = Array.from({ length: size }, (_, i) => i * size + i).filter(
      (_, i) => i % 6 < 3 === (kind === 0),
    );
    const most = own.reduce((a, d) => Math.max(a, stiff[d]), 0);
    for (const d of own) stiff[d] += ridge * most;
  }
  const root = choleskyDense(stiff, size);
  if (!root.ok) return root;
  const h = transposed(root.value, size);
  const one = dotProducts(h, dotProducts(h, g, size, kernels), size, kernels, true);
  for (let i = 0; i < size; i++) one[i * size + i] += 1;
  const factor = choleskyDense(one, size);
  if (!factor.ok) return factor;
  const l = factor.value;
  for (let i = 0; i < size; i++) {
    const to = h.subarray(i * size, (i + 1) * size);
    for (let k = 0; k < i; k++) {
      const f = l[i * size + k];
      const line = h.subarray(k * size, (k + 1) * size);
      for (let j = 0; j < size; j++) to[j] -= f * line[j];
    }
    const d = l[i * size + i];
    for (let j = 0; j < size; j++) to[j] /= d;
  }
  return done(dotProducts(dotProducts(x, h, size, kernels), transposed(h, size), size, kernels));
}

function transposed(a: Float64Array, size: number): Float64Array {
  const out = new Float64Array(size * size);
  for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) out[j * size + i] = a[i * size + j];
  return out;
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

function full(a: SparseSymmetric): Float64Array {
  const out = new Float64Array(a.n * a.n);
  for (let j = 0; j < a.n; j++)
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++)
      out[j * a.n + a.rowIndex[p]] = out[a.rowIndex[p] * a.n + j] = a.values[p];
  return out;
}

function identity(n: number): MotionMap {
  return {
    start: Uint32Array.from({ length: n + 1 }, (_, i) => i),
    row: Uint32Array.from({ length: n }, (_, i) => i),
    weight: new Float64Array(n).fill(1),
  };
}

/** P A P' of each of some symmetric matrices on the rows. */
function betweenStations(
  { start, row, weight }: MotionMap,
  matrices: readonly (Float64Array | Float32Array)[],
): Float64Array[] {
  const m = Math.sqrt(matrices[0].length);
  const size = start.length - 1;
  const rows = [...new Set(row)].sort((a, b) => a - b);
  const place = new Map(rows.map((r, i) => [r, i]));
  const local = row.map((r) => place.get(r) ?? 0);
  const count = rows.length;
  const line = new Float64Array(count);
  const own = new Float64Array(count * count);
  return matrices.map((a) => {
    // the rows under the line alone
    rows.forEach((r, i) => {
      for (let k = 0; k <= i; k++) own[i * count + k] = own[k * count + i] = a[r * m + rows[k]];
    });
    const out = new Float64Array(size * size);
    for (let i = 0; i < size; i++) {
      line.fill(0);
      for (let p = start[i]; p < start[i + 1]; p++) {
        const [w, from] = [weight[p], local[p] * count];
        for (let k = 0; k < count; k++) line[k] += w * own[from + k];
      }
      for (let j = 0; j <= i; j++) {
        let sum = 0;
        for (let p = start[j]; p < start[j + 1]; p++) sum += weight[p] * line[local[p]];
        out[i * size + j] = out[j * size + i] = sum;
      }
    }
    return out;
  });
}
