import { addElements, type SparseSymmetric, symmetricPattern } from "#engine/numerics";
import type { BodyPiece } from "./bodyModel.ts";

/** The three matrices of a piece on one pattern, to be filled element by element. */
export interface PieceMatrices {
  readonly matrices: readonly [stiffness: SparseSymmetric, loss: SparseSymmetric, mass: SparseSymmetric];
  /** Adds an element over the piece's own motions; what is absent is zero. */
  add(dofs: Int32Array, stiffness: Float64Array | null, loss: Float64Array | null, mass: Float64Array): void;
}

export function pieceMatrices(motions: number, elements: readonly Int32Array[]): PieceMatrices {
  const stiffness = symmetricPattern(motions, elements);
  const like = (): SparseSymmetric => ({ ...stiffness, values: new Float64Array(stiffness.values.length) });
  const loss = like();
  const mass = like();
  return {
    matrices: [stiffness, loss, mass],
    add: (dofs, k, l, m) => {
      if (k !== null && l !== null) addElements([stiffness, loss, mass], dofs, [k, l, m]);
      else addElements([mass], dofs, [m]);
    },
  };
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
