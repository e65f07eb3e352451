/** Shape functions of second degree on triangles and on lines. */

/**
 * Values and derivatives of the six functions at barycentric (1 - u - v, u, v), order a, b, c, ab, bc, ca; each array of
 * 6 is overwritten: value, d/du, d/dv. a at u = v = 0, b at u = 1, c at v = 1.
 */
export function triangleShapes(
  u: number,
  v: number,
  value: Float64Array,
  du: Float64Array,
  dv: Float64Array,
): void {
  const w = 1 - u - v;
  value[0] = w * (2 * w - 1);
  value[1] = u * (2 * u - 1);
  value[2] = v * (2 * v - 1);
  value[3] = 4 * w * u;
  value[4] = 4 * u * v;
  value[5] = 4 * v * w;
  du[0] = dv[0] = 1 - 4 * w;
  du[1] = 4 * u - 1;
  dv[1] = 0;
  du[2] = 0;
  dv[2] = 4 * v - 1;
  du[3] = 4 * (w - u);
  dv[3] = -4 * u;
  du[4] = 4 * v;
  dv[4] = 4 * u;
  du[5] = -4 * v;
  dv[5] = 4 * (w - v);
}

/** The three functions on [0, 1] with nodes at 0, 1/2, 1, and their derivatives. */
export function lineShapes(t: number, value: Float64Array, dt: Float64Array): void {
  value[0] = (1 - t) * (1 - 2 * t);
  value[1] = 4 * t * (1 - t);
  value[2] = t * (2 * t - 1);
  dt[0] = 4 * t - 3;
  dt[1] = 4 - 8 * t;
  dt[2] = 4 * t - 1;
}
