/** Plane figures the proofs of air are made on. */

export function ellipsePolygon(a: number, b: number, count = 360): Float64Array {
  const p = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    p[2 * i] = a * Math.cos((2 * Math.PI * i) / count);
    p[2 * i + 1] = b * Math.sin((2 * Math.PI * i) / count);
  }
  return p;
}

/** A disc of radius a cut into triangles by rings and spokes. */
export function discMesh(a: number, rings: number, spokes: number) {
  const nodes: number[] = [0, 0, 0];
  const triangles: number[] = [];
  for (let r = 1; r <= rings; r++) {
    for (let t = 0; t < spokes; t++) {
      const angle = (2 * Math.PI * t) / spokes;
      nodes.push(((a * r) / rings) * Math.cos(angle), ((a * r) / rings) * Math.sin(angle), 0);
    }
  }
  for (let t = 0; t < spokes; t++) {
    const u = (t + 1) % spokes;
    triangles.push(0, 1 + t, 1 + u);
    for (let r = 1; r < rings; r++) {
      const inner = 1 + (r - 1) * spokes;
      const outer = inner + spokes;
      triangles.push(inner + t, outer + t, outer + u, inner + t, outer + u, inner + u);
    }
  }
  return { nodes: Float64Array.from(nodes), triangles: Uint32Array.from(triangles) };
}
