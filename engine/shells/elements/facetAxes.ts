/**
 * Area of the facet with corners `p` (x, y, z of three corners); fills its axes (rows x, y, normal: x is the projection of
 * the unit vector `along`) and its corners in them, the first at their origin.
 */
export function facetAxes(
  p: Float64Array,
  along: Float64Array,
  frame: Float64Array,
  x: Float64Array,
  y: Float64Array,
): number {
  const ax = p[3] - p[0];
  const ay = p[4] - p[1];
  const az = p[5] - p[2];
  const bx = p[6] - p[0];
  const by = p[7] - p[1];
  const bz = p[8] - p[2];
  const nx = ay * bz - az * by;
  const ny = az * bx - ax * bz;
  const nz = ax * by - ay * bx;
  const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
  const ux = nx / twice;
  const uy = ny / twice;
  const uz = nz / twice;
  // along less its part on the normal
  const part = along[0] * ux + along[1] * uy + along[2] * uz;
  const dx = along[0] - part * ux;
  const dy = along[1] - part * uy;
  const dz = along[2] - part * uz;
  const size = Math.sqrt(dx * dx + dy * dy + dz * dz);
  const ex = dx / size;
  const ey = dy / size;
  const ez = dz / size;
  const fx = uy * ez - uz * ey;
  const fy = uz * ex - ux * ez;
  const fz = ux * ey - uy * ex;
  frame[0] = ex;
  frame[1] = ey;
  frame[2] = ez;
  frame[3] = fx;
  frame[4] = fy;
  frame[5] = fz;
  frame[6] = ux;
  frame[7] = uy;
  frame[8] = uz;
  x[0] = 0;
  y[0] = 0;
  x[1] = ex * ax + ey * ay + ez * az;
  y[1] = fx * ax + fy * ay + fz * az;
  x[2] = ex * bx + ey * by + ez * bz;
  y[2] = fx * bx + fy * by + fz * bz;
  return twice / 2;
}
