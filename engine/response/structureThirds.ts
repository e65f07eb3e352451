import type { ModeCoordinates } from "./structureMotion.ts";
import { timesTransposed } from "./timesTransposed.ts";
import type { TopMotions } from "./topMotions.ts";

export interface StructureThirds {
  /** count x 3 [upper, middle, lower]: flow over the sum of absolute flows, the largest positive. */
  readonly flowShare: Float64Array;
  /** count: the sign that was given to the mode, over that sum of absolute flows. */
  readonly signOverFlow: Float64Array;
  /** 3 x m x m, m = rigidCount + count: integral of the product of two outward motions over each third inside the lining; empty where `top` has none. */
  readonly product: Float64Array;
}

/** What the thirds of the top do in the coupled (undamped) modes. */
export function structureThirds(top: TopMotions, x: ModeCoordinates): StructureThirds {
  const { rigidCount: r, count, structure } = x;
  const m = r + count;
  const p = top.motions;
  const flow = timesTransposed(structure, top.flow, m, 3, p);
  const flowShare = new Float64Array(3 * count);
  const signOverFlow = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const f = flow.subarray(3 * (r + i), 3 * (r + i) + 3);
    const largest = f.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
    const sum = f.reduce((total, b) => total + Math.abs(b), 0);
    if (sum === 0) continue;
    signOverFlow[i] = (largest < 0 ? -1 : 1) / sum;
    for (let k = 0; k < 3; k++) flowShare[3 * i + k] = f[k] * signOverFlow[i];
  }
  if (top.product.length === 0) return { flowShare, signOverFlow, product: top.product };
  const product = new Float64Array(3 * m * m);
  for (let third = 0; third < 3; third++) {
    const half = timesTransposed(
      structure,
      top.product.subarray(third * p * p, (third + 1) * p * p),
      m,
      p,
      p,
    );
    product.set(timesTransposed(half, structure, m, m, p), third * m * m);
  }
  return { flowShare, signOverFlow, product };
}
