import { backFrame, outwardMotion } from "./bodyFrames.ts";
import type { BodyParts } from "./bodyParts.ts";
import type { CoupledSystem } from "./coupledSystem.ts";
import { topThirds } from "./topThirds.ts";

/** Outward motion of top and back, at the nodes and gathered by thirds of the top. */
export interface PlateMotions {
  /** count x nodes of the top, and of the back. */
  readonly top: Float64Array;
  readonly back: Float64Array;
  /** count x 3 [upper, middle, lower]: flow over the sum of absolute flows, the largest positive. */
  readonly flowShare: Float64Array;
  /** count: the sign that was given to the mode, over that sum of absolute flows. */
  readonly signOverFlow: Float64Array;
  /** 3 x m x m, m = rigidCount + count: integral of the product of two outward motions over each third inside the lining. */
  readonly product: Float64Array;
}

/** vectors: count x n coupled modes; rigid: rigidCount x n. */
export function plateMotions(
  parts: BodyParts,
  system: CoupledSystem,
  vectors: Float64Array,
  rigid: Float64Array,
): PlateMotions {
  const { n, topCount, backCount, rigidCount } = system;
  const count = vectors.length / n;
  const m = rigidCount + count;
  const all = new Float64Array(m * n);
  all.set(rigid);
  all.set(vectors, rigidCount * n);
  const upright = Float64Array.from({ length: 36 }, (_, i) => (i % 7 === 0 ? 1 : 0));
  const own = (from: number, plateCount: number, turn: Float64Array) => {
    const out = new Float64Array(m * (plateCount + 6));
    for (let i = 0; i < m; i++) {
      const x = all.subarray(i * n, i * n + n);
      const row = out.subarray(i * (plateCount + 6), (i + 1) * (plateCount + 6));
      row.set(x.subarray(from, from + plateCount));
      for (let r = 0; r < 6; r++) {
        for (let s = 0; s < rigidCount; s++)
          row[plateCount + r] += turn[6 * r + s] * x[topCount + backCount + s];
      }
    }
    return out;
  };
  const ofTop = own(0, topCount, upright);
  const ofBack = own(topCount, backCount, backFrame(parts.backSeat));
  const topMotion = outwardMotion(parts.top);
  const thirds = topThirds(parts.top, topMotion, parts.topRim ?? null);
  const flow = timesTransposed(ofTop, thirds.flow, m, 3, thirds.motions);
  const flowShare = new Float64Array(3 * count);
  const signOverFlow = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const f = flow.subarray(3 * (rigidCount + i), 3 * (rigidCount + i) + 3);
    const largest = f.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
    const sum = f.reduce((total, b) => total + Math.abs(b), 0);
    signOverFlow[i] = (largest < 0 ? -1 : 1) / sum;
    for (let k = 0; k < 3; k++) flowShare[3 * i + k] = f[k] * signOverFlow[i];
  }
  const product = new Float64Array(3 * m * m);
  for (let third = 0; third < 3; third++) {
    const size = thirds.motions;
    const half = timesTransposed(
      ofTop,
      thirds.product.subarray(third * size * size, (third + 1) * size * size),
      m,
      size,
      size,
    );
    product.set(timesTransposed(half, ofTop, m, m, size), third * m * m);
  }
  return {
    top: outward(topMotion, ofTop.subarray(rigidCount * (topCount + 6)), count),
    back: outward(outwardMotion(parts.back), ofBack.subarray(rigidCount * (backCount + 6)), count),
    flowShare,
    signOverFlow,
    product,
  };
}

/** A B', A rows x inner and B columns x inner, row by row. */
function timesTransposed(
  a: Float64Array,
  b: Float64Array,
  rows: number,
  columns: number,
  inner: number,
): Float64Array {
  const out = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) {
      let sum = 0;
      for (let k = 0; k < inner; k++) sum += a[i * inner + k] * b[j * inner + k];
      out[i * columns + j] = sum;
    }
  }
  return out;
}

/** count x nodes: own = count x (plate modes + 6 rigid motions in the plate's frame), motion = those of `outwardMotion`. */
function outward(motion: Float64Array, own: Float64Array, count: number): Float64Array {
  const width = own.length / count;
  const nodes = motion.length / width;
  const out = new Float64Array(count * nodes);
  for (let i = 0; i < count; i++) {
    const to = out.subarray(i * nodes, (i + 1) * nodes);
    for (let m = 0; m < width; m++) {
      const f = own[i * width + m];
      const from = motion.subarray(m * nodes, (m + 1) * nodes);
      if (f !== 0) for (let k = 0; k < nodes; k++) to[k] += f * from[k];
    }
  }
  return out;
}
