import type { PlateModes } from "#engine/shells";

/** What the three thirds of the top's length do, [upper, middle, lower], upper towards the neck. */
export interface TopThirds {
  /** count + 6 motions: the plate's modes, then its rigid motions. */
  readonly motions: number;
  /** 3 x motions: volume swept outward by each third. */
  readonly flow: Float64Array;
  /** 3 x motions x motions: integral of the outward motions' product over each third, m2. */
  readonly product: Float64Array;
}

/**
 * Thirds of the top's length along the centreline (physics of the definition: thirds of the centreline, hole excluded, edge
 * held to the rim). Each node carries its own area; a node within half its own width of a dividing line is shared
 * between both sides in proportion, so that the shares do not jump as the mesh moves. motion: of `outwardMotion`.
 */
export function topThirds(top: PlateModes, motion: Float64Array): TopThirds {
  const { count, nodeArea, mesh } = top;
  const n = nodeArea.length;
  const m = count + 6;
  let [tail, neck] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < n; k++) {
    tail = Math.min(tail, mesh.nodes[3 * k]);
    neck = Math.max(neck, mesh.nodes[3 * k]);
  }
  const flow = new Float64Array(3 * m);
  const product = new Float64Array(3 * m * m);
  const weighted = new Float64Array(n);
  for (let third = 0; third < 3; third++) {
    const area = new Float64Array(n);
    for (let k = 0; k < n; k++) {
      const width = Math.sqrt(nodeArea[k]);
      const beyond = (line: number) => clamp((mesh.nodes[3 * k] - line) / width + 0.5);
      const upper = beyond(tail + (2 * (neck - tail)) / 3);
      const lower = 1 - beyond(tail + (neck - tail) / 3);
      area[k] = nodeArea[k] * [upper, 1 - upper - lower, lower][third];
    }
    for (let i = 0; i < m; i++) {
      for (let k = 0; k < n; k++) {
        weighted[k] = area[k] * motion[i * n + k];
        flow[third * m + i] += weighted[k];
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

function clamp(share: number): number {
  return Math.max(0, Math.min(1, share));
}
