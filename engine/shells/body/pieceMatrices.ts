import { addElements, type SparseSymmetric } from "#engine/numerics";
import type { BodyPiece } from "./bodyModel.ts";

/** The three matrices of a piece on one pattern, to be filled element by element. */
export interface PieceMatrices {
  readonly matrices: readonly [stiffness: SparseSymmetric, loss: SparseSymmetric, mass: SparseSymmetric];
  /** Adds an element over the piece's own motions; what is absent is zero. */
  add(dofs: Int32Array, stiffness: Float64Array | null, loss: Float64Array | null, mass: Float64Array): void;
  /** Adds the 18 x 18 matrices of a triangle between the three nodes of the list from `at` on. */
  addTriangle(
    nodes: Uint32Array,
    at: number,
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
  triangles: Uint32Array,
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
    addTriangle: (corners, at, k, l, m) => {
      for (let b = 0; b < 3; b++) {
        const J = corners[at + b];
        for (let a = 0; a < 3; a++) {
          const I = corners[at + a];
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
  triangles: Uint32Array,
  others: readonly Int32Array[],
): { readonly start: Uint32Array; readonly list: Uint32Array } {
  const lower: number[] = [];
  const upper: number[] = [];
  for (let e = 0; e < triangles.length; e++) {
    const a = triangles[e];
    const b = triangles[e % 3 === 2 ? e - 2 : e + 1];
    lower.push(Math.min(a, b));
    upper.push(Math.max(a, b));
  }
  for (const dofs of others) {
    const own = nodesOf(dofs, nodes);
    for (let a = 0; a < own.length; a++) {
      for (let b = 0; b < a; b++) {
        if (own[a] === own[b]) continue;
        lower.push(Math.min(own[a], own[b]));
        upper.push(Math.max(own[a], own[b]));
      }
    }
  }
  const from = new Uint32Array(nodes + 1);
  for (let k = 0; k < lower.length; k++) from[lower[k] + 1]++;
  for (let k = 0; k < nodes; k++) from[k + 1] += from[k];
  const next = from.slice();
  const all = new Uint32Array(lower.length);
  for (let k = 0; k < lower.length; k++) all[next[lower[k]]++] = upper[k];
  const start = new Uint32Array(nodes + 1);
  const list = new Uint32Array(all.length);
  let count = 0;
  for (let k = 0; k < nodes; k++) {
    count = putDistinct(all, from[k], from[k + 1], list, count);
    start[k + 1] = count;
  }
  return { start, list: list.slice(0, count) };
}

/** Puts the different numbers of a short stretch of `all` into `list` from `first` on, ascending; returns their end. */
function putDistinct(all: Uint32Array, from: number, to: number, list: Uint32Array, first: number): number {
  let end = first;
  for (let k = from; k < to; k++) {
    const value = all[k];
    let at = end;
    while (at > first && list[at - 1] > value) at--;
    if (at > first && list[at - 1] === value) continue;
    for (let m = end; m > at; m--) list[m] = list[m - 1];
    list[at] = value;
    end++;
  }
  return end;
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
