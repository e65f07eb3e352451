/** An octahedron cut m-fold and blown up to a sphere of 8 m^2 triangles, m odd or even, for this folder's tests. */
import type { ExteriorSurface } from "./exterior.ts";

export function sphere(m: number, radius = 1): ExteriorSurface {
  const names = new Map<string, number>();
  const nodes: number[] = [];
  const node = (p: readonly number[]): number => {
    const key = p.join();
    const known = names.get(key);
    if (known !== undefined) return known;
    names.set(key, names.size);
    const length = Math.hypot(...p) / radius;
    nodes.push(...p.map((x) => x / length));
    return names.size - 1;
  };
  const triangles: number[] = [];
  for (const sx of [1, -1]) {
    for (const sy of [1, -1]) {
      for (const sz of [1, -1]) {
        const at = (i: number, j: number) => node([sx * i, sy * j, sz * (m - i - j)].map((x) => x + 0));
        const push = (a: number, b: number, c: number) =>
          sx * sy * sz > 0 ? triangles.push(a, b, c) : triangles.push(a, c, b);
        for (let i = 0; i < m; i++) {
          for (let j = 0; i + j < m; j++) {
            push(at(i, j), at(i + 1, j), at(i, j + 1));
            if (i + j < m - 1) push(at(i + 1, j), at(i + 1, j + 1), at(i, j + 1));
          }
        }
      }
    }
  }
  return {
    nodes: Float64Array.from(nodes),
    triangles: Uint32Array.from(triangles),
    part: new Uint8Array(triangles.length / 3),
  };
}
