/** Plane figures the proofs of air are made on. */

export function ellipsePolygon(a: number, b: number, count = 360): Float64Array {
  const p = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    p[2 * i] = a * Math.cos((2 * Math.PI * i) / count);
    p[2 * i + 1] = b * Math.sin((2 * Math.PI * i) / count);
  }
  return p;
}
