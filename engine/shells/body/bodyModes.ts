import {
  type Context,
  done,
  failed,
  type KernelSource,
  modesBelow,
  type Outcome,
  symmetricMultiply,
  typescriptKernels,
} from "#engine/numerics";
import type { BodyLayout, BodyModes, BodySystem, PointRows } from "./bodyModel.ts";
import type { PointRef } from "./bodySpec.ts";
import { rigidMotions } from "./bodySystem.ts";
import { modalLoss } from "./modalLoss.ts";
import { motionsUnder } from "./motionRows.ts";
import { partOfNode } from "./partOfNode.ts";
import { pointRows } from "./pointRows.ts";
import { modeReading, type ReadModes, readModes } from "./readModes.ts";

/** Eigenpairs of K x = lambda M x, ascending, M-normalised; vectors count x n. */
export interface BodyPairs {
  readonly values: Float64Array;
  readonly vectors: Float64Array;
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
  const still = { shift: found.value.solveShift, flexibility: found.value.between(rows.value) };
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
  const { n } = system;
  const rigidCount = rigidOf(system);
  const all = pairs.values.length;
  const count = all - rigidCount;
  const fault = rigidFault(system, pairs);
  if (fault !== null) return fault;
  const vectors = new Float64Array(all * n);
  vectors.set(pairs.vectors.subarray(0, all * n));
  if (rigidCount > 0) vectors.set(rigidVectors(system));
  const read = readModes(modeReading(system, rows), vectors, all);
  const loss = modalLoss(system.lossStiffness, vectors.subarray(rigidCount * n), count, kernels).own;
  return done(toldModes(system, pairs.values, read, loss, still));
}

/** The failure where the first of a body's pairs are not what they ought to be; null: they are. */
export function rigidFault(system: BodySystem, pairs: BodyPairs): Outcome<never> | null {
  const { values } = pairs;
  const rigidCount = rigidOf(system);
  if (values.length <= rigidCount)
    return failed("no-modes", "no elastic mode lies below the frequency asked for");
  if (rigidCount === 0 || Math.abs(values[5]) < 1e-4 * values[6]) return null;
  const part = freePart(system, pairs);
  return values[0] < -1e-8 * values[values.length - 1]
    ? failed("unstable", `the body has no stable form: it gives way at ${part}`)
    : failed(
        "rigid-motions",
        `${part} moves against the rest of the body without resistance: nothing holds it, or it has no stiffness`,
      );
}

/** Rigid motions of a body: six, or none where it is held. */
export function rigidOf({ spec }: Pick<BodySystem, "spec">): 0 | 6 {
  return spec.support === "free" ? 6 : 0;
}

/** The modes from what was read off their vectors, rigid motions first. values: of all of them. */
export function toldModes(
  system: Pick<BodySystem, "spec" | "layout" | "mesh" | "totalMass" | "rigidMass">,
  values: Float64Array,
  read: ReadModes,
  loss: Float64Array,
  still: PointFlexibility | null,
): BodyModes {
  const { layout, mesh, totalMass, rigidMass } = system;
  const rigidCount = rigidOf(system);
  const count = values.length - rigidCount;
  const line = [...layout.neckNode, ...layout.tongueNode];
  return {
    count,
    omega: Float64Array.from({ length: count }, (_, k) => Math.sqrt(values[rigidCount + k])),
    rigidCount,
    surface: mesh.surface,
    shapes: read.shapes,
    loss,
    points: read.points,
    neck: {
      places: Float64Array.from(line.flatMap((node) => [0, 1, 2].map((q) => layout.places[3 * node + q]))),
      motions: read.neck,
    },
    pointResidual: residual(still, read.points, values, rigidCount),
    energyShare: read.energyShare.slice(4 * rigidCount),
    volume: read.volume,
    springs: read.springs,
    mesh: { top: mesh.top, back: mesh.back, topNode: mesh.topNode, backNode: mesh.backNode },
    totalMass,
    rigidMass,
  };
}

/** Rigid motions M-orthonormal: R C with C' (R' M R) C = 1, from the Cholesky factor of R' M R; 6 x n. */
export function rigidVectors({
  n,
  rigidMass,
  layout,
}: Pick<BodySystem, "n" | "rigidMass"> & {
  readonly layout: Pick<BodyLayout, "rowMotion" | "places">;
}): Float64Array {
  const r = rigidMotions(layout.rowMotion, layout.places);
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
  for (let m = 0; m < Math.min(7, vectors.length / n); m++) {
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
