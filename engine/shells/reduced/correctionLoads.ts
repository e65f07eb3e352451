import { type KernelSource, lowestDense, placeOf } from "#engine/numerics";
import { projected } from "./projectChange.ts";
import type { NominalModes, ReducedParameter, StructureChange } from "./reducedModel.ts";

/** Modes whose corrections are sought, from the lowest. */
const aimedAt = 60;

/**
 * Loads whose static answers correct the nominal modes for a parameter: at most `count`, each n.
 *
 * At a changed place mode i is out of balance by g_i = (dK - w_i^2 dM) phi_i, which acts on the changed elements alone; what
 * the nominal modes lack is about K^-1 g_i. The loads are the leading combinations of all g_i / w_i at the outermost
 * knots, led in the norm of the inverse of dK's diagonal, which stands for the flexibility.
 */
export function correctionLoads(
  parameter: ReducedParameter,
  nominal: NominalModes,
  count: number,
  source: KernelSource,
): Float64Array {
  const { rigidCount, values } = nominal;
  const n = nominal.vectors.length / (rigidCount + values.length);
  const knots = outermost(parameter);
  const touched = touchedRows(
    knots.flatMap((knot) => knot.changes),
    n,
  );
  const m = touched.rows.length;
  const modes = Math.min(aimedAt, values.length);
  const size = modes * knots.length;
  if (m === 0 || size === 0) return new Float64Array(0);
  const forces = new Float64Array(size * m);
  const scale = new Float64Array(m);
  for (const [q, { changes }] of knots.entries()) {
    for (const change of changes) {
      if (change.stiffness.n === 0) continue;
      addDiagonal(change, touched.place, scale);
      const phi = nominal.vectors.subarray(rigidCount * n, (rigidCount + modes) * n);
      const to = forces.subarray(q * modes * m, (q + 1) * modes * m);
      addForces(change, phi, values, touched.place, to, source);
    }
  }
  const largest = scale.reduce((a, b) => Math.max(a, b), 0);
  if (!(largest > 0)) {
    // a change of mass alone: all rows alike
    scale.fill(1);
  }
  const inverse = {
    n: m,
    colStart: Uint32Array.from({ length: m + 1 }, (_, k) => k),
    rowIndex: Uint32Array.from({ length: m }, (_, k) => k),
    values: scale.map((s) => 1 / (s + (largest > 0 ? 1e-9 * largest : 0))),
  };
  const alone = { start: inverse.colStart, row: inverse.rowIndex, weight: new Float64Array(m).fill(1) };
  const [packed] = projected([inverse], alone, forces, size, source);
  const gram = new Float64Array(size * size);
  const one = new Float64Array(size * size);
  for (let i = 0, p = 0; i < size; i++) {
    one[i * size + i] = 1;
    for (let j = 0; j <= i; j++) gram[i * size + j] = -packed[p++];
  }
  const led = lowestDense(gram, one, size, count, source);
  if (!led.ok) return new Float64Array(0);
  let found = 0;
  while (found < Math.min(count, size) && led.value.values[found] < 1e-14 * led.value.values[0]) found++;
  const loads = new Float64Array(found * n);
  const sum = new Float64Array(m);
  for (let c = 0; c < found; c++) {
    sum.fill(0);
    for (let i = 0; i < size; i++) addTimes(sum, led.value.vectors[c * size + i], forces, i * m);
    for (let k = 0; k < m; k++) loads[c * n + touched.rows[k]] = sum[k];
  }
  return loads;
}

/** to += factor times the numbers of `from` from a place on. */
function addTimes(to: Float64Array, factor: number, from: Float64Array, at: number): void {
  for (let k = 0; k < to.length; k++) to[k] += factor * from[at + k];
}

/** The knots with the least and the greatest factor. */
function outermost({ knots }: ReducedParameter): ReducedParameter["knots"] {
  const sorted = [...knots].sort((a, b) => a.factor - b.factor);
  return sorted.length < 2 ? sorted : [sorted[0], sorted[sorted.length - 1]];
}

/** rows: all rows that the changes touch, ascending; place: of each row of n among them. */
function touchedRows(
  changes: readonly StructureChange[],
  n: number,
): { readonly rows: Uint32Array; readonly place: Int32Array } {
  const place = new Int32Array(n).fill(-1);
  for (const { motions } of changes) for (const row of motions.row) place[row] = 0;
  const rows: number[] = [];
  for (let i = 0; i < n; i++) if (place[i] === 0) place[i] = rows.push(i) - 1;
  return { rows: Uint32Array.from(rows), place };
}

function addDiagonal({ motions, stiffness }: StructureChange, place: Int32Array, out: Float64Array): void {
  for (let k = 0; k < stiffness.n; k++) {
    const d = Math.abs(stiffness.values[stiffness.colStart[k]]);
    for (let p = motions.start[k]; p < motions.start[k + 1]; p++)
      out[place[motions.row[p]]] += motions.weight[p] ** 2 * d;
  }
}

/** Adds w^-1 (dK - w^2 dM) phi on the touched rows for each of several modes (phi, out: mode after mode). */
function addForces(
  { motions, stiffness, mass }: StructureChange,
  phi: Float64Array,
  values: Float64Array,
  place: Int32Array,
  out: Float64Array,
  source: KernelSource,
): void {
  const k = stiffness.n;
  const m = place.reduce((most, p) => Math.max(most, p), -1) + 1;
  const modes = out.length / m;
  const n = phi.length / modes;
  const { colStart, rowIndex } = stiffness;
  const kernels = source(Math.ceil(12 * k + 2.5 * rowIndex.length + colStart.length) + 64);
  const [x, f, g] = [0, 1, 2].map(() => kernels.allocate(4 * k));
  const [a, b] = [0, 1].map(() => kernels.allocate(rowIndex.length));
  const starts = kernels.allocateIndices(colStart.length);
  const rows = kernels.allocateIndices(rowIndex.length);
  starts.set(colStart);
  rows.set(rowIndex);
  a.set(stiffness.values);
  b.set(mass.values);
  for (let first = 0; first < modes; first += 4) {
    const width = Math.min(4, modes - first);
    x.fill(0);
    for (let v = 0; v < width; v++) {
      const from = (first + v) * n;
      for (let i = 0; i < k; i++) {
        let sum = 0;
        for (let p = motions.start[i]; p < motions.start[i + 1]; p++)
          sum += motions.weight[p] * phi[from + motions.row[p]];
        x[4 * i + v] = sum;
      }
    }
    kernels.blocks.multiply(k, placeOf(starts), placeOf(rows), placeOf(a), placeOf(x), placeOf(f));
    kernels.blocks.multiply(k, placeOf(starts), placeOf(rows), placeOf(b), placeOf(x), placeOf(g));
    for (let v = 0; v < width; v++) {
      const value = values[first + v];
      const scale = 1 / Math.sqrt(value);
      const to = (first + v) * m;
      for (let i = 0; i < k; i++) {
        const force = scale * (f[4 * i + v] - value * g[4 * i + v]);
        for (let p = motions.start[i]; p < motions.start[i + 1]; p++)
          out[to + place[motions.row[p]]] += motions.weight[p] * force;
      }
    }
  }
}
