import type { BodyLayout, MotionMap } from "./bodyModel.ts";

/** All motions under the unknowns x (rows): T x. */
export function motionsUnder(
  map: MotionMap,
  x: Float64Array,
  out = new Float64Array(map.start.length - 1),
): Float64Array {
  const { start, row, weight } = map;
  for (let k = 0; k < out.length; k++) {
    let sum = 0;
    for (let p = start[k]; p < start[k + 1]; p++) sum += weight[p] * x[row[p]];
    out[k] = sum;
  }
  return out;
}

/** Sparse rows gathered one after another: each a sum of motions, told in the unknowns. */
export function rowsOfMotions(
  map: MotionMap,
  sums: readonly (readonly (readonly [motion: number, weight: number])[])[],
): MotionMap {
  const start = new Uint32Array(sums.length + 1);
  const row: number[] = [];
  const weight: number[] = [];
  sums.forEach((sum, k) => {
    const gathered = new Map<number, number>();
    for (const [motion, w] of sum) {
      for (let p = map.start[motion]; p < map.start[motion + 1]; p++)
        gathered.set(map.row[p], (gathered.get(map.row[p]) ?? 0) + w * map.weight[p]);
    }
    for (const [r, w] of [...gathered].sort((a, b) => a[0] - b[0])) {
      if (w === 0) continue;
      row.push(r);
      weight.push(w);
    }
    start[k + 1] = row.length;
  });
  return { start, row: Uint32Array.from(row), weight: Float64Array.from(weight) };
}

/** The six motions of each of these nodes, in their order, on the map's rows. */
export function motionsOfNodes(map: MotionMap, nodes: readonly number[]): MotionMap {
  const start = new Uint32Array(6 * nodes.length + 1);
  const row: number[] = [];
  const weight: number[] = [];
  nodes.forEach((node, i) => {
    for (let k = 0; k < 6; k++) {
      const motion = 6 * node + k;
      for (let p = map.start[motion]; p < map.start[motion + 1]; p++) {
        row.push(map.row[p]);
        weight.push(map.weight[p]);
      }
      start[6 * i + k + 1] = row.length;
    }
  });
  return { start, row: Uint32Array.from(row), weight: Float64Array.from(weight) };
}

/**
 * How the motions of a plate's own matrices (6 by node of its mesh IN ITS PLATE FRAME, then its ribs' turns) hang on the
 * rows: for the back the reflection between plate and body frame is in the weights.
 */
export function plateMotionMap(layout: BodyLayout, which: "top" | "back"): MotionMap {
  const motion = which === "top" ? layout.topMotion : layout.backMotion;
  const nodes = 6 * (layout.places.length / 3);
  const start = new Uint32Array(motion.length + 1);
  const row: number[] = [];
  const weight: number[] = [];
  motion.forEach((k, i) => {
    const sign = which === "back" && k < nodes ? backSigns[k % 6] : 1;
    for (let p = layout.map.start[k]; p < layout.map.start[k + 1]; p++) {
      row.push(layout.map.row[p]);
      weight.push(sign * layout.map.weight[p]);
    }
    start[i + 1] = row.length;
  });
  return { start, row: Uint32Array.from(row), weight: Float64Array.from(weight) };
}

/**
 * Sign of each motion of a node when the back's plate frame (x, y, height outward) is read in the body frame
 * (x, y, z = -height): the reflection turns a displacement's z and, as for every axial vector, the rotations about x and y.
 */
export const backSigns = [1, 1, -1, -1, -1, 1] as const;
