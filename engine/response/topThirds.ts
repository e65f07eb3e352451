import type { PlateModes } from "#engine/shells";
import type { RimStrip } from "./bodyParts.ts";
import { thirdAreas } from "./thirdAreas.ts";

/** What the three thirds of the top's length do, [upper, middle, lower], upper towards the neck. */
export interface TopThirds {
  /** count + 6 motions: the plate's modes, then its rigid motions. */
  readonly motions: number;
  /** 3 x motions: volume swept outward by each third. */
  readonly flow: Float64Array;
  /** 3 x motions x motions: integral of the outward motions' product over each third inside the lining, m2. */
  readonly product: Float64Array;
}

/**
 * By thirds of the top's length along the centreline, hole excluded, edge held to the rim. Flow is that of the whole third; the
 * product leaves out the strip over side and lining (`rim`, if given), as the definition of `upperThirdShare` has it. motion:
 * of `outwardMotion`.
 */
export function topThirds(top: PlateModes, motion: Float64Array, rim: RimStrip | null): TopThirds {
  const n = top.nodeArea.length;
  const m = top.count + 6;
  const { whole, inside } = thirdAreas(top, rim);
  const flow = new Float64Array(3 * m);
  const product = new Float64Array(3 * m * m);
  const weighted = new Float64Array(n);
  for (let third = 0; third < 3; third++) {
    for (let i = 0; i < m; i++) {
      for (let k = 0; k < n; k++) {
        flow[third * m + i] += whole[third * n + k] * motion[i * n + k];
        weighted[k] = inside[third * n + k] * motion[i * n + k];
      }
      for (let j = 0; j <= i; j++) {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += weighted[k] * motion[j * n + k];
        product[(third * m + i) * m + j] = sum;
        product[(third * m + j) * m + i] = sum;
      }
    }
  }
  return { motions: m, flow, product };
}
