import { quadraticForms, type SparseSymmetric, symmetricMultiply } from "#engine/numerics";
import type { BodyPiece, BodySystem, MotionMap, PointRows } from "./bodyModel.ts";
import { motionsUnder } from "./motionRows.ts";

/** All that is read off the vectors of a body's modes, and how. Plain data, without the body's matrices. */
export interface ModeReading {
  readonly map: MotionMap;
  readonly shellNodes: number;
  /** Nodes of the neck's beam and of the board's clear end. */
  readonly line: Uint32Array;
  /** By part (top, back, rim) and motion of the shell nodes (6 by node): volume swept outward. */
  readonly flow: readonly [Float64Array, Float64Array, Float64Array];
  /** kg by shell node: the top's and the back's mass lumped. */
  readonly weight: readonly [Float64Array, Float64Array];
  readonly neck: { readonly mass: SparseSymmetric; readonly motion: Uint32Array } | null;
  readonly points: PointRows;
  /** One row by spring: how far each mode stretches it. */
  readonly springs: MotionMap;
}

/** What some vectors are seen to do, vector after vector; as the fields of BodyModes of the same names. */
export interface ReadModes {
  readonly count: number;
  readonly shapes: Float64Array;
  readonly volume: Float64Array;
  readonly points: Float64Array;
  readonly springs: Float64Array;
  readonly neck: Float64Array;
  /** Of each vector as if it were an elastic mode. */
  readonly energyShare: Float64Array;
}

const partOf = { top: 0, back: 1, rim: 2, neck: 3 } as const;

export function modeReading(system: BodySystem, points: PointRows): ModeReading {
  const { layout, pieces, pieceMotions } = system;
  const { shellNodes } = layout;
  const flow = [0, 1, 2].map(() => new Float64Array(6 * shellNodes));
  const weight = [0, 1].map(() => new Float64Array(shellNodes));
  let neck: ModeReading["neck"] = null;
  pieces.forEach((piece, p) => {
    const motion = pieceMotions[p];
    if (piece.part === "neck") {
      neck = { mass: piece.mass, motion };
      return;
    }
    const swept = flow[partOf[piece.part]];
    piece.flow.forEach((v, k) => {
      if (motion[k] < swept.length) swept[motion[k]] += v;
    });
    if (piece.part === "rim") return;
    const own = weight[partOf[piece.part]];
    const plate = motion.reduce((sum, k) => (k < swept.length ? sum + 1 : sum), 0) / 6; // then come its ribs' turns
    nodeMasses(piece, plate).forEach((v, k) => {
      own[Math.floor(motion[6 * k] / 6)] += v;
    });
  });
  return {
    map: layout.map,
    shellNodes,
    line: Uint32Array.from([...layout.neckNode, ...layout.tongueNode]),
    flow: [flow[0], flow[1], flow[2]],
    weight: [weight[0], weight[1]],
    neck,
    points,
    springs: springMap(system),
  };
}

/** vectors: count x n. */
export function readModes(reading: ModeReading, vectors: Float64Array, count: number): ReadModes {
  const { map, shellNodes: shells, line, flow, weight, neck, points, springs } = reading;
  const n = vectors.length / count;
  const shapes = new Float64Array(count * shells * 3);
  const volume = new Float64Array(count * 3);
  const energyShare = new Float64Array(count * 4);
  const along = new Float64Array(6 * count * line.length);
  const motions = new Float64Array(map.start.length - 1);
  const own = new Float64Array(neck === null ? 0 : neck.motion.length);
  for (let m = 0; m < count; m++) {
    motionsUnder(map, vectors.subarray(m * n, (m + 1) * n), motions);
    const still = seen(motions, shells, weight, shapes.subarray(3 * m * shells, 3 * (m + 1) * shells));
    for (let part = 0; part < 3; part++) volume[3 * m + part] = product(flow[part], motions);
    for (let k = 0; k < line.length; k++)
      along.set(motions.subarray(6 * line[k], 6 * line[k] + 6), 6 * (m * line.length + k));
    const share = energyShare.subarray(4 * m, 4 * m + 4);
    share[0] = still[0];
    share[1] = still[1];
    if (neck !== null) {
      for (let k = 0; k < own.length; k++) own[k] = motions[neck.motion[k]];
      share[3] = quadraticForms(neck.mass, own, 1)[0];
    }
    // the whole is 1: the rim has what the plates and the neck leave
    share[2] = 1 - share[0] - share[1] - share[3];
  }
  return {
    count,
    shapes,
    volume,
    points: motionsOfAll(points, vectors, count, n),
    springs: motionsOfAll(springs, vectors, count, n),
    neck: along,
    energyShare,
  };
}

/** The readings of two sets of vectors, one after the other. */
export function joinedReadings(a: ReadModes, b: ReadModes): ReadModes {
  const both = (field: Exclude<keyof ReadModes, "count">): Float64Array => {
    const out = new Float64Array(a[field].length + b[field].length);
    out.set(a[field]);
    out.set(b[field], a[field].length);
    return out;
  };
  return {
    count: a.count + b.count,
    shapes: both("shapes"),
    volume: both("volume"),
    points: both("points"),
    springs: both("springs"),
    neck: both("neck"),
    energyShare: both("energyShare"),
  };
}

/** Copies the displacements of the shell nodes into `shape`; sum of weight times their squares, top and back. */
function seen(
  motions: Float64Array,
  shells: number,
  [top, back]: ModeReading["weight"],
  shape: Float64Array,
): readonly [number, number] {
  let onTop = 0;
  let onBack = 0;
  for (let k = 0, at = 0; k < shells; k++, at += 3) {
    const x = motions[6 * k];
    const y = motions[6 * k + 1];
    const z = motions[6 * k + 2];
    shape[at] = x;
    shape[at + 1] = y;
    shape[at + 2] = z;
    const square = x * x + y * y + z * z;
    onTop += top[k] * square;
    onBack += back[k] * square;
  }
  return [onTop, onBack];
}

/** a' b over the length of a. */
function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k];
  return sum;
}

/** Mass by node of a plate's mesh: row sums of its matrix for a rigid translation. */
function nodeMasses({ mass }: BodyPiece, nodes: number): Float64Array {
  const up = new Float64Array(mass.n);
  for (let k = 0; k < nodes; k++) up[6 * k + 2] = 1;
  const moved = symmetricMultiply(mass, up);
  return Float64Array.from({ length: nodes }, (_, k) => moved[6 * k + 2]);
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
