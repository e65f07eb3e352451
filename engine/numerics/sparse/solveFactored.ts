/** Triangular solves with a supernodal Cholesky factor, four right-hand sides at a time. */
import { invariant } from "../outcome.ts";
import { backward } from "./backwardSolve.ts";
import type { CholeskyFactor } from "./factorize.ts";
import { forward } from "./forwardSolve.ts";

/** Solves A x = b. b and the result: n x columns, column after column (out may be b). */
export function solveFactored(
  f: CholeskyFactor,
  b: Float64Array,
  columns = 1,
  out: Float64Array = new Float64Array(f.n * columns),
): Float64Array {
  const { n } = f;
  const { dofAt } = f.partition;
  invariant(b.length >= n * columns && out.length >= n * columns, () => "vectors shorter than the factor");
  const block = new Float64Array(4 * n);
  for (let c = 0; c < columns; c += 4) {
    const width = Math.min(4, columns - c);
    block.fill(0);
    for (let k = 0; k < width; k++) for (let i = 0; i < n; i++) block[4 * i + k] = b[(c + k) * n + dofAt[i]];
    solveBlock(f, block);
    for (let k = 0; k < width; k++)
      for (let i = 0; i < n; i++) out[(c + k) * n + dofAt[i]] = block[4 * i + k];
  }
  return out;
}

/**
 * Solves A x = b IN PLACE for four right-hand sides interleaved and in elimination order: side c of the unknown at
 * position p stands at 4 p + c.
 */
export function solveBlock(f: CholeskyFactor, x: Float64Array): void {
  forward(f, x);
  backward(f, x);
}
