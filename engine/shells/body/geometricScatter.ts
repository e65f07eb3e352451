import { invariant, type SparseSymmetric } from "#engine/numerics";

/**
 * Adds an 18 x 18 symmetric matrix of the nodes a, b, c to a piece's matrix IN PLACE. The piece's pattern is of dense
 * 6 x 6 blocks (pieceMatrices.ts): column 6 J + k holds rows 6 J + k .. 6 J + 5, then six rows of each node above J.
 */
export function addTriangleBlocks(to: SparseSymmetric, nodes: ArrayLike<number>, k: Float64Array): void {
  const { colStart, rowIndex, values } = to;
  for (let b = 0; b < 3; b++) {
    const J = nodes[b];
    for (let a = 0; a < 3; a++) {
      const I = nodes[a];
      if (I < J) continue;
      let shift = 0; // from the row's place within its own block column
      if (I > J) {
        const first = colStart[6 * J] + 6;
        const end = colStart[6 * J + 1];
        while (first + shift < end && rowIndex[first + shift] !== 6 * I) shift += 6;
        invariant(first + shift < end, () => `nodes ${I} and ${J} share no block`);
      }
      for (let c = 0; c < 6; c++) {
        const from = 18 * (6 * b + c) + 6 * a; // symmetric: read along rows
        const at = colStart[6 * J + c] + (I > J ? 6 - c + shift : -c);
        for (let r = I === J ? c : 0; r < 6; r++) values[at + r] += k[from + r];
      }
    }
  }
}
