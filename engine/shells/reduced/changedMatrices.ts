import { invariant, type SparseSymmetric } from "#engine/numerics";
import type { ReducibleStructure, StructureChange } from "./reducedModel.ts";

/**
 * The structure's matrices after changes of some elements, on their own pattern: copies with the changes added, without
 * assembling anything else. For an exact refresh when the hand lets go.
 */
export function changedMatrices(
  { stiffness, mass, lossStiffness }: ReducibleStructure,
  changes: readonly StructureChange[],
): ReducibleStructure {
  const out = {
    stiffness: { ...stiffness, values: stiffness.values.slice() },
    mass: { ...mass, values: mass.values.slice() },
    lossStiffness: { ...lossStiffness, values: lossStiffness.values.slice() },
  };
  for (const change of changes) {
    addChange(out.stiffness, change.stiffness, change);
    addChange(out.mass, change.mass, change);
    addChange(out.lossStiffness, change.lossStiffness, change);
  }
  return out;
}

/** to += T' a T, T the motions' map, in place. */
function addChange(to: SparseSymmetric, a: SparseSymmetric, { motions }: StructureChange): void {
  const { start, row, weight } = motions;
  for (let j = 0; j < a.n; j++) {
    for (let e = a.colStart[j]; e < a.colStart[j + 1]; e++) {
      const value = a.values[e];
      if (value === 0) continue;
      const i = a.rowIndex[e];
      for (let p = start[i]; p < start[i + 1]; p++) {
        for (let q = start[j]; q < start[j + 1]; q++) {
          // an entry off the diagonal stands for its mirror image too: both land on the diagonal where the rows are one
          const twice = i !== j && row[p] === row[q] ? 2 : 1;
          if (i === j && row[p] < row[q]) continue;
          add(to, row[p], row[q], twice * weight[p] * weight[q] * value);
        }
      }
    }
  }
}

function add(to: SparseSymmetric, a: number, b: number, value: number): void {
  const column = Math.min(a, b);
  const wanted = Math.max(a, b);
  let low = to.colStart[column];
  let high = to.colStart[column + 1] - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (to.rowIndex[middle] < wanted) low = middle + 1;
    else high = middle;
  }
  invariant(to.rowIndex[low] === wanted, () => `entry (${wanted}, ${column}) is not in the pattern`);
  to.values[low] += value;
}
