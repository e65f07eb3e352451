/**
 * Complete elliptic integral of the first kind by the arithmetic-geometric mean:
 *   K(m) = integral over 0..pi/2 of dt / sqrt(1 - m sin^2 t) = pi / (2 agm(1, sqrt(1 - m)))
 * with the PARAMETER m = k^2 < 1 (negative m is allowed). Infinite at m = 1, NaN above. Source: DLMF 19.8.5.
 */
export function ellipticK(m: number): number {
  if (!(m <= 1)) return Number.NaN;
  let a = 1;
  let g = Math.sqrt(1 - m);
  if (g === 0) return Number.POSITIVE_INFINITY;
  while (Math.abs(a - g) > 2 * Number.EPSILON * a) {
    const mean = 0.5 * (a + g);
    g = Math.sqrt(a * g);
    a = mean;
  }
  return Math.PI / (a + g);
}
