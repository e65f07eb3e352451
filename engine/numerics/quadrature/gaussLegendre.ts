/** Points and weights on a line: the integral is the sum of weight x value. */
export interface LineRule {
  readonly points: Float64Array;
  readonly weights: Float64Array;
}

/**
 * Gauss-Legendre rule with n points on [-1, 1], exact for polynomials up to degree 2n - 1; points ascending.
 * Newton on the three-term recurrence of the Legendre polynomials from Tricomi's first guess. Source: DLMF 3.5(v), 18.9.
 */
export function gaussLegendre(n: number): LineRule {
  const points = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let iteration = 0; iteration < 20; iteration++) {
      let p0 = 1;
      let p1 = x;
      for (let k = 2; k <= n; k++) [p0, p1] = [p1, ((2 * k - 1) * x * p1 - (k - 1) * p0) / k];
      slope = (n * (x * p1 - p0)) / (x * x - 1);
      const step = p1 / slope;
      x -= step;
      if (Math.abs(step) < 4 * Number.EPSILON) break;
    }
    points[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { points, weights };
}
