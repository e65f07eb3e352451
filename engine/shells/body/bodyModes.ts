import {
  type Context,
  done,
  failed,
  type KernelSource,
  modesBelow,
  type Outcome,
  quadraticForms,
  symmetricMultiply,
  typescriptKernels,
} from "#engine/numerics";
import { packedLength, projected } from "../reduced/projectChange.ts";
import type { BodyModes, BodyPiece, BodySystem, MotionMap, PointRows } from "./bodyModel.ts";
import type { PointRef } from "./bodySpec.ts";
import { rigidMotions } from "./bodySystem.ts";
import { motionsUnder } from "./motionRows.ts";
import { partOfNode } from "./partOfNode.ts";
import { pointRows } from "./pointRows.ts";

/** Eigenpairs of K x = lambda M x, ascending, M-normalised; vectors count x n. */
export interface BodyPairs {
  readonly values: Float64Array;
  readonly vectors: Float64Array;
}

/** Solutions of (K + shift M) x = b: n x columns, column after column. */
export interface ShiftedSolver {
  readonly shift: number;
  readonly solve: (b: Float64Array, columns: number) => Float64Array;
}

/** Flexibility between all rows of some points, of (K + shift M)^-1: size x size. */
export interface PointFlexibility {
  readonly shift: number;
  readonly flexibility: Float64Array;
}

/** s (rad2/s2) with which the flexibility of a body with modes up to a frequency (Hz) is found. */
export function residualShift(toFrequency: number): number {
  return (2 * Math.PI * Math.min(30, toFrequency / 30)) ** 2;
}

/**
 * Modes in vacuo up to a frequency (Hz), strings left out (`springs` tells how each stretches them). Fails as the
 * eigensolver and `pointRows` do, and where a free body has not just six rigid motions: with 'unstable' if one of them sets energy
 * free (a load beyond buckling), else with 'rigid-motions', both naming the part that moves.
 */
export function bodyModes(
  system: BodySystem,
  points: readonly PointRef[],
  toFrequency: number,
  context: Context,
): Outcome<BodyModes> {
  const rows = pointRows(system, points);
  if (!rows.ok) return rows;
  const to = (2 * Math.PI * toFrequency) ** 2;
  const shift = residualShift(toFrequency);
  const found = modesBelow(system.stiffness, system.mass, { to, group: system.group, shift }, context);
  if (!found.ok) return found;
  const { solve, solveShift } = found.value;
  const still = pointFlexibility(system.n, rows.value, { shift: solveShift, solve });
  const described = describedModes(system, rows.value, found.value, still, context.kernels);
  return described.ok ? done(described.value, [...found.warnings, ...described.warnings]) : described;
}

/**
 * What coupling needs of given pairs (all of them from the lowest on; a free body's six rigid ones are replaced by exact
 * rigid motions). The residual flexibility between the points is that of (K + s M)^-1 less the listed modes' share of it,
 * sum of (phi f)(phi f) / (w^2 + s): what the modes not listed would give at rest, low by s / w^2 of each (a thousandth at
 * most with `residualShift`: 30 Hz or a thirtieth of the highest frequency). `still`: null leaves it 0.
 */
export function describedModes(
  system: BodySystem,
  rows: PointRows,
  pairs: BodyPairs,
  still: PointFlexibility | null,
  kernels: KernelSource = typescriptKernels,
): Outcome<BodyModes> {
  const { n, layout, mesh } = system;
  const whole: KernelSource = (doubles) => kernels(Math.ceil(doubles));
  const rigidCount = system.spec.support === "free" ? 6 : 0;
  const all = pairs.values.length;
  const count = all - rigidCount;
  if (count < 1) return failed("no-modes", "no elastic mode lies below the frequency asked for");
  if (rigidCount > 0 && !(Math.abs(pairs.values[5]) < 1e-4 * pairs.values[6])) {
    const part = freePart(system, pairs);
    return pairs.values[0] < -1e-8 * pairs.values[all - 1]
      ? failed("unstable", `the body has no stable form: it gives way at ${part}`)
      : failed(
          "rigid-motions",
          `${part} moves against the rest of the body without resistance: nothing holds it, or it has no stiffness`,
        );
  }
  const vectors = new Float64Array(all * n);
  vectors.set(pairs.vectors.subarray(0, all * n));
  if (rigidCount > 0) vectors.set(rigidVectors(system));
  const omega = Float64Array.from({ length: count }, (_, k) => Math.sqrt(pairs.values[rigidCount + k]));

  const shells = layout.shellNodes;
  const shapes = new Float64Array(all * shells * 3);
  const volume = new Float64Array(all * 3);
  const energyShare = new Float64Array(count * 4);
  const motions = new Float64Array(layout.motions);
  const line = [...layout.neckNode, ...layout.tongueNode];
  const neck = {
    places: Float64Array.from(line.flatMap((node) => [0, 1, 2].map((q) => layout.places[3 * node + q]))),
    motions: new Float64Array(6 * all * line.length),
  };
  const weights = system.pieces.map((piece) => (piece.part === "rim" ? null : nodeMasses(piece)));
  for (let m = 0; m < all; m++) {
    motionsUnder(layout.map, vectors.subarray(m * n, (m + 1) * n), motions);
    for (let k = 0, at = 3 * m * shells; k < 6 * shells; k += 6, at += 3) {
      shapes[at] = motions[k];
      shapes[at + 1] = motions[k + 1];
      shapes[at + 2] = motions[k + 2];
    }
    line.forEach((node, k) => {
      neck.motions.set(motions.subarray(6 * node, 6 * node + 6), 6 * (m * line.length + k));
    });
    const share = energyShare.subarray(4 * (m - rigidCount), 4 * (m - rigidCount) + 4);
    system.pieces.forEach(({ part, flow, mass }, p) => {
      const list = system.pieceMotions[p];
      let swept = 0;
      for (let k = 0; k < flow.length; k++) swept += flow[k] * motions[list[k]];
      if (part !== "neck") volume[3 * m + partOf[part]] += swept;
      if (m < rigidCount) return;
      if (part === "neck")
        share[3] = quadraticForms(
          mass,
          Float64Array.from(list, (k) => motions[k]),
          1,
        )[0];
      const weight = weights[p];
      if (weight === null || part === "neck") return;
      for (let k = 0; k < weight.length; k++) {
        const at = list[6 * k];
        share[partOf[part]] += weight[k] * (motions[at] ** 2 + motions[at + 1] ** 2 + motions[at + 2] ** 2);
      }
    });
    // the whole is 1: the rim has what the plates and the neck leave
    if (m >= rigidCount) share[2] = 1 - share[0] - share[1] - share[3];
  }

  const packed = projected(
    [system.lossStiffness],
    identity(n),
    vectors.subarray(rigidCount * n),
    count,
    whole,
  )[0];
  const loss = new Float64Array(count * count);
  for (let i = 0; i < count; i++)
    for (let j = 0; j <= i; j++) loss[count * i + j] = loss[count * j + i] = packed[packedLength(i) + j];

  const pointMotions = motionsOfAll(rows, vectors, all, n);
  const springs = motionsOfAll(springMap(system), vectors, all, n);
  return done({
    count,
    omega,
    rigidCount,
    surface: mesh.surface,
    shapes,
    loss,
    points: pointMotions,
    neck,
    pointResidual: residual(still, pointMotions, pairs.values, rigidCount),
    energyShare,
    volume,
    springs,
    mesh: { top: mesh.top, back: mesh.back, topNode: mesh.topNode, backNode: mesh.backNode },
    totalMass: system.totalMass,
    rigidMass: system.rigidMass,
  });
}

const partOf = { top: 0, back: 1, rim: 2, neck: 3 } as const;

/** Mass by node of a plate's mesh: row sums of its matrix for a rigid translation. */
function nodeMasses({ mass }: BodyPiece): Float64Array {
  const nodes = Math.floor(mass.n / 6);
  const up = new Float64Array(mass.n);
  for (let k = 0; k < nodes; k++) up[6 * k + 2] = 1;
  const product = symmetricMultiply(mass, up);
  return Float64Array.from({ length: nodes }, (_, k) => product[6 * k + 2]);
}

/** Rigid motions M-orthonormal: R C with C' (R' M R) C = 1, from the Cholesky factor of R' M R; 6 x n. */
export function rigidVectors(system: BodySystem): Float64Array {
  const { n, rigidMass } = system;
  const r = rigidMotions(system.layout.rowMotion, system.layout.places);
  const l = new Float64Array(36);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = rigidMass[6 * i + j];
      for (let k = 0; k < j; k++) sum -= l[6 * i + k] * l[6 * j + k];
      l[6 * i + j] = i === j ? Math.sqrt(sum) : sum / l[6 * j + j];
    }
  }
  // X L' = R, motion after motion
  for (let c = 0; c < 6; c++) {
    for (let k = 0; k < c; k++) for (let i = 0; i < n; i++) r[c * n + i] -= l[6 * c + k] * r[k * n + i];
    for (let i = 0; i < n; i++) r[c * n + i] /= l[6 * c + c];
  }
  return r;
}

/** The part that moves most in what the lowest seven motions hold beyond moving as one rigid body. */
function freePart(system: BodySystem, { vectors }: BodyPairs): string {
  const { n, layout } = system;
  const rigid = rigidVectors(system);
  const motions = new Float64Array(layout.motions);
  let most = 0;
  let part = 0;
  for (let m = 0; m < 7; m++) {
    const rest = vectors.slice(m * n, (m + 1) * n);
    const weighted = symmetricMultiply(system.mass, rest);
    for (let q = 0; q < 6; q++) {
      const r = rigid.subarray(q * n, (q + 1) * n);
      const share = r.reduce((sum, v, k) => sum + v * weighted[k], 0);
      for (let k = 0; k < n; k++) rest[k] -= share * r[k];
    }
    motionsUnder(layout.map, rest, motions);
    for (let node = 0; node < layout.places.length / 3; node++) {
      const size = Math.hypot(...motions.subarray(6 * node, 6 * node + 3));
      if (size <= most) continue;
      most = size;
      part = node;
    }
  }
  return partOfNode(system, part);
}

/** vectors x rows of the map, vector after vector. */
function motionsOfAll(map: MotionMap, vectors: Float64Array, count: number, n: number): Float64Array {
  const size = map.start.length - 1;
  const out = new Float64Array(count * size);
  for (let m = 0; m < count; m++)
    motionsUnder(map, vectors.subarray(m * n, (m + 1) * n), out.subarray(m * size, (m + 1) * size));
  return out;
}

function springMap({ springs }: BodySystem): MotionMap {
  const start = new Uint32Array(springs.length + 1);
  springs.forEach((s, k) => {
    start[k + 1] = start[k] + s.row.length;
  });
  return {
    start,
    row: Uint32Array.from(springs.flatMap((s) => [...s.row])),
    weight: Float64Array.from(springs.flatMap((s) => [...s.weight])),
  };
}

function identity(n: number): MotionMap {
  return {
    start: Uint32Array.from({ length: n + 1 }, (_, k) => k),
    row: Uint32Array.from({ length: n }, (_, k) => k),
    weight: new Float64Array(n).fill(1),
  };
}

/** By one solution for each row. */
export function pointFlexibility(
  n: number,
  rows: PointRows,
  { shift, solve }: ShiftedSolver,
): PointFlexibility {
  const size = rows.start.length - 1;
  const flexibility = new Float64Array(size * size);
  if (size === 0) return { shift, flexibility };
  const b = new Float64Array(n * size);
  for (let k = 0; k < size; k++)
    for (let p = rows.start[k]; p < rows.start[k + 1]; p++) b[k * n + rows.row[p]] = rows.weight[p];
  const x = solve(b, size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let p = rows.start[i]; p < rows.start[i + 1]; p++) sum += rows.weight[p] * x[j * n + rows.row[p]];
      flexibility[size * i + j] = flexibility[size * j + i] = sum;
    }
  }
  return { shift, flexibility };
}

/** size x size: see `describedModes`. */
function residual(
  still: PointFlexibility | null,
  pointMotions: Float64Array,
  values: Float64Array,
  rigidCount: number,
): Float64Array {
  const size = pointMotions.length / values.length;
  if (still === null) return new Float64Array(size * size);
  const out = still.flexibility.slice();
  for (let m = 0; m < values.length; m++) {
    const own = (m < rigidCount ? 0 : values[m]) + still.shift;
    const moved = pointMotions.subarray(m * size, (m + 1) * size);
    for (let i = 0; i < size; i++)
      for (let j = 0; j < size; j++) out[size * i + j] -= (moved[i] * moved[j]) / own;
  }
  return out;
}
