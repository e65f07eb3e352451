import { addElements, type SparseSymmetric } from "#engine/numerics";
import type { BodyPiece } from "./bodyModel.ts";

/** The three matrices of a piece on one pattern, to be filled element by element. */
export interface PieceMatrices {
  readonly matrices: readonly [stiffness: SparseSymmetric, loss: SparseSymmetric, mass: SparseSymmetric];
  /** Adds an element over the piece's own motions; what is absent is zero. */
  add(dofs: Int32Array, stiffness: Float64Array | null, loss: Float64Array | null, mass: Float64Array): void;
  /** Adds the 18 x 18 matrices of a triangle between the nodes a, b, c. */
  addTriangle(
    nodes: ArrayLike<number>,
    stiffness: Float64Array,
    loss: Float64Array,
    mass: Float64Array,
  ): void;
}

/**
 * Room for triangles (3 nodes each) and other elements (motions: 6 by node, then `turns` of ribs). Between nodes the
 * pattern is of dense 6 x 6 blocks, so that a triangle finds its places block by block.
 *
 *  column 6 J + k:   rows 6 J + k .. 6 J + 5,   6 rows of each neighbour above J in ascending order,   turns
 */
export function pieceMatrices(
  nodes: number,
  turns: number,
  triangles: ArrayLike<number>,
  others: readonly Int32Array[],
): PieceMatrices {
  const above = neighboursAbove(nodes, triangles, others);
  const turnRows = turnsMet(nodes, turns, others);
  const motions = 6 * nodes + turns;
  const colStart = new Uint32Array(motions + 1);
  for (let c = 0; c < motions; c++) {
    const node = c < 6 * nodes ? Math.floor(c / 6) : -1;
    const dense = node < 0 ? 1 : 6 - (c % 6) + 6 * (above.start[node + 1] - above.start[node]);
    colStart[c + 1] = colStart[c] + dense + (turnRows[c]?.length ?? 0);
  }
  const rowIndex = new Uint32Array(colStart[motions]);
  for (let c = 0; c < motions; c++) {
    let at = colStart[c];
    if (c < 6 * nodes) {
      const node = Math.floor(c / 6);
      for (let r = c; r < 6 * node + 6; r++) rowIndex[at++] = r;
      for (let q = above.start[node]; q < above.start[node + 1]; q++)
        for (let k = 0; k < 6; k++) rowIndex[at++] = 6 * above.list[q] + k;
    } else rowIndex[at++] = c;
    for (const r of turnRows[c] ?? []) rowIndex[at++] = r;
  }
  const empty = (): SparseSymmetric => ({
    n: motions,
    colStart,
    rowIndex,
    values: new Float64Array(rowIndex.length),
  });
  const stiffness = empty();
  const loss = empty();
  const mass = empty();
  const [ks, ls, ms] = [stiffness.values, loss.values, mass.values];
  return {
    matrices: [stiffness, loss, mass],
    add: (dofs, k, l, m) => {
      if (k !== null && l !== null) addElements([stiffness, loss, mass], dofs, [k, l, m]);
      else addElements([mass], dofs, [m]);
    },
    addTriangle: (corner, k, l, m) => {
      for (let b = 0; b < 3; b++) {
        const J = corner[b];
        for (let a = 0; a < 3; a++) {
          const I = corner[a];
          if (I < J) continue;
          let shift = 0; // from the row's place within its own block column
          if (I > J) {
            let q = above.start[J];
            while (above.list[q] !== I) q++;
            shift = 6 * (q - above.start[J]);
          }
          for (let c = 0; c < 6; c++) {
            const from = 18 * (6 * b + c) + 6 * a; // symmetric: read along rows
            const to = colStart[6 * J + c] + (I > J ? 6 - c + shift : -c);
            for (let r = I === J ? c : 0; r < 6; r++) {
              ks[to + r] += k[from + r];
              ls[to + r] += l[from + r];
              ms[to + r] += m[from + r];
            }
          }
        }
      }
    },
  };
}

/** For each node the nodes of higher number that share an element with it, ascending. */
function neighboursAbove(
  nodes: number,
  triangles: ArrayLike<number>,
  others: readonly Int32Array[],
): { readonly start: Uint32Array; readonly list: Uint32Array } {
  const keys: number[] = [];
  const pair = (a: number, b: number): void => {
    if (a !== b) keys.push(a < b ? a * nodes + b : b * nodes + a);
  };
  for (let e = 0; e < triangles.length; e += 3) {
    pair(triangles[e], triangles[e + 1]);
    pair(triangles[e + 1], triangles[e + 2]);
    pair(triangles[e + 2], triangles[e]);
  }
  for (const dofs of others) {
    const own = nodesOf(dofs, nodes);
    for (let a = 0; a < own.length; a++) for (let b = 0; b < a; b++) pair(own[a], own[b]);
  }
  const sorted = Float64Array.from(keys).sort();
  const start = new Uint32Array(nodes + 1);
  const list = new Uint32Array(sorted.length);
  let count = 0;
  sorted.forEach((key, k) => {
    if (k > 0 && key === sorted[k - 1]) return;
    const low = Math.floor(key / nodes);
    list[count++] = key - low * nodes;
    start[low + 1]++;
  });
  for (let k = 0; k < nodes; k++) start[k + 1] += start[k];
  return { start, list: list.slice(0, count) };
}

function nodesOf(dofs: Int32Array, nodes: number): number[] {
  const own: number[] = [];
  for (let k = 0; k < dofs.length; k += 6)
    if (dofs[k] < 6 * nodes && k + 6 <= dofs.length) own.push(dofs[k] / 6);
  return own;
}

/** For each motion the turns of higher number that meet it in an element, ascending; undefined where none does. */
function turnsMet(nodes: number, turns: number, others: readonly Int32Array[]): (number[] | undefined)[] {
  const met: (Set<number> | undefined)[] = new Array(6 * nodes + turns);
  for (const dofs of others) {
    for (const t of dofs) {
      if (t < 6 * nodes) continue;
      for (const c of dofs) {
        if (c >= t) continue;
        met[c] ??= new Set();
        met[c].add(t);
      }
    }
  }
  return met.map((set) => set && [...set].sort((a, b) => a - b));
}

/** Element's motions: six by node, then any others. */
export function motionsOf(nodes: ArrayLike<number>, extra: readonly number[] = []): Int32Array {
  const list = new Int32Array(6 * nodes.length + extra.length);
  for (let c = 0; c < nodes.length; c++) for (let k = 0; k < 6; k++) list[6 * c + k] = 6 * nodes[c] + k;
  list.set(extra, 6 * nodes.length);
  return list;
}

export function finishedPiece(
  part: BodyPiece["part"],
  nodes: Uint32Array | null,
  made: PieceMatrices,
  flow: Float64Array,
  liningMass: number,
): BodyPiece {
  const [stiffness, lossStiffness, mass] = made.matrices;
  return { part, nodes, stiffness, lossStiffness, mass, flow, liningMass };
}
