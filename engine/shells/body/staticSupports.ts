import type { SparseSymmetric } from "#engine/numerics";
import type { BodySystem } from "./bodyModel.ts";

/**
 * The stiffness of a free body held by springs on the six motions of one node (the first block, else a shell node): loads in
 * equilibrium put no force on them, so the strains are those of the free body whatever their stiffness. A body that is
 * held already comes back as it is.
 */
export function supportedStiffness(system: BodySystem): SparseSymmetric {
  const { layout, stiffness: k } = system;
  if (system.spec.support !== "free") return k;
  const node = layout.blockNode[0] ?? 0;
  const values = k.values.slice();
  for (let q = 0; q < 6; q++) {
    const at = layout.map.start[6 * node + q];
    // the diagonal comes first in its column
    const place = k.colStart[layout.map.row[at]];
    values[place] *= 2;
  }
  return { ...k, values };
}
