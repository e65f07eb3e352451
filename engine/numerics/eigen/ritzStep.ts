import { tridiagonalize, tridiagonalQl } from "./tridiagonal.ts";

/**
 * Ritz values of T, ascending, and what each pair leaves outside the space: |R s| with s the last four components of the
 * eigenvector. projected: T, size x size; coupling: R, 4 x 4 upper triangular.
 */
export function ritzStep(
  projected: Float64Array,
  size: number,
  coupling: Float64Array,
): { readonly theta: Float64Array; readonly residual: Float64Array } {
  const t = tridiagonalize(projected, size, 4);
  const theta = new Float64Array(size);
  const residual = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
  if (!tridiagonalQl(t).ok) return { theta, residual };
  const order = Array.from({ length: size }, (_, i) => i).sort((a, b) => t.diagonal[a] - t.diagonal[b]);
  order.forEach((from, to) => {
    theta[to] = t.diagonal[from];
    let sum = 0;
    for (let i = 0; i < 4; i++) {
      let row = 0;
      for (let k = i; k < 4; k++) row += coupling[4 * i + k] * t.basis[4 * from + k];
      sum += row * row;
    }
    residual[to] = Math.sqrt(sum);
  });
  return { theta, residual };
}
