import type { CholeskyFactor } from "../sparse/factorize.ts";
import { solveFactored } from "../sparse/solveFactored.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";
import { multiplyBlock } from "./blocks.ts";

/** Above this residual a vector is put through the inverse once more. */
const doubtful = 1e-6;

/**
 * Scales each vector to x' M x = 1 IN PLACE and returns the relative residuals |K x - lambda M x| / |(lambda + shift) M x|.
 * Where rounding has blown up what M does not see (long iterations with a singular M), the vector is first replaced by
 * (K + shift M)^-1 M x, which is the same mode without it. factor: of K + shift M; vectors: count x n, by mode.
 */
export function normaliseAndCheck(
  k: SparseSymmetric,
  m: SparseSymmetric,
  factor: CholeskyFactor,
  values: Float64Array,
  vectors: Float64Array,
  shift: number,
): Float64Array {
  const { n } = k;
  const count = values.length;
  const x = new Float64Array(4 * n);
  const kx = new Float64Array(4 * n);
  const mx = new Float64Array(4 * n);
  const residuals = new Float64Array(count);
  const check = (first: number, width: number): void => {
    x.fill(0);
    for (let c = 0; c < width; c++) for (let i = 0; i < n; i++) x[4 * i + c] = vectors[(first + c) * n + i];
    multiplyBlock(m, x, mx);
    multiplyBlock(k, x, kx);
    for (let c = 0; c < width; c++) {
      const lambda = values[first + c];
      let mass = 0;
      let residual = 0;
      let force = 0;
      for (let i = c; i < 4 * n; i += 4) {
        const gap = kx[i] - lambda * mx[i];
        mass += x[i] * mx[i];
        residual += gap * gap;
        force += mx[i] * mx[i];
      }
      residuals[first + c] = Math.sqrt(residual / force) / (lambda + shift);
      const scale = 1 / Math.sqrt(mass);
      const at = (first + c) * n;
      for (let i = 0; i < n; i++) vectors[at + i] *= scale;
    }
  };
  for (let first = 0; first < count; first += 4) {
    const width = Math.min(4, count - first);
    check(first, width);
    for (let c = 0; c < width; c++) {
      if (residuals[first + c] <= doubtful) continue;
      const force = Float64Array.from({ length: n }, (_, i) => mx[4 * i + c]);
      solveFactored(factor, force, 1, vectors.subarray((first + c) * n, (first + c + 1) * n));
    }
    if (residuals.subarray(first, first + width).some((r) => !(r <= doubtful))) check(first, width);
  }
  return residuals;
}
