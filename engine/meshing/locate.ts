import { twiceArea } from "./meshQuality.ts";
import type { PlanLocation, PlanMesh } from "./planMesh.ts";
import { cellKey } from "./sizing.ts";

function weights(mesh: PlanMesh, f: number, x: number, y: number): readonly [number, number, number] {
  const n = mesh.nodes;
  const [a, b, c] = [0, 1, 2].map((k) => mesh.triangles[3 * f + k]) as [number, number, number];
  const part = (p: number, q: number) =>
    (n[2 * p] - x) * (n[2 * q + 1] - y) - (n[2 * q] - x) * (n[2 * p + 1] - y);
  const whole = twiceArea(mesh, f);
  return [part(b, c) / whole, part(c, a) / whole, part(a, b) / whole];
}

/**
 * A function that finds the triangle holding (x, y), for many questions to one mesh. It answers null outside; points
 * outside by no more than `reach` (m) are answered by the triangle that misses them least, with a weight below zero.
 */
export function planLocator(mesh: PlanMesh, reach = 0): (x: number, y: number) => PlanLocation | null {
  const { nodes, triangles } = mesh;
  const count = triangles.length / 3;
  let area = 0;
  for (let f = 0; f < count; f++) area += twiceArea(mesh, f) / 2;
  const cell = 2 * Math.sqrt(area / Math.max(1, count));
  const cells = new Map<number, number[]>();
  // Rounding of the weights of a point on an edge.
  const margin = Math.max(reach, 1e-9 * cell);
  for (let f = 0; f < count; f++) {
    const xs = [0, 1, 2].map((k) => nodes[2 * triangles[3 * f + k]]);
    const ys = [0, 1, 2].map((k) => nodes[2 * triangles[3 * f + k] + 1]);
    for (
      let i = Math.floor((Math.min(...xs) - margin) / cell);
      i <= Math.floor((Math.max(...xs) + margin) / cell);
      i++
    ) {
      for (
        let j = Math.floor((Math.min(...ys) - margin) / cell);
        j <= Math.floor((Math.max(...ys) + margin) / cell);
        j++
      ) {
        const key = cellKey(i, j);
        const list = cells.get(key);
        if (list === undefined) cells.set(key, [f]);
        else list.push(f);
      }
    }
  }
  return (x, y) => {
    let best: PlanLocation | null = null;
    let miss = margin;
    for (const f of cells.get(cellKey(Math.floor(x / cell), Math.floor(y / cell))) ?? []) {
      const w = weights(mesh, f, x, y);
      const out = outsideBy(mesh, f, x, y, w);
      if (out === 0) return { triangle: f, barycentric: w };
      if (out <= miss) {
        miss = out;
        best = { triangle: f, barycentric: w };
      }
    }
    return best;
  };
}

/** Distance from the point to the triangle, m; 0 inside. */
function outsideBy(
  mesh: PlanMesh,
  f: number,
  x: number,
  y: number,
  w: readonly [number, number, number],
): number {
  if (w[0] >= 0 && w[1] >= 0 && w[2] >= 0) return 0;
  const n = mesh.nodes;
  let best = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 3; k++) {
    const p = mesh.triangles[3 * f + k];
    const q = mesh.triangles[3 * f + ((k + 1) % 3)];
    const dx = n[2 * q] - n[2 * p];
    const dy = n[2 * q + 1] - n[2 * p + 1];
    const t = Math.min(1, Math.max(0, ((x - n[2 * p]) * dx + (y - n[2 * p + 1]) * dy) / (dx * dx + dy * dy)));
    best = Math.min(best, Math.hypot(n[2 * p] + t * dx - x, n[2 * p + 1] + t * dy - y));
  }
  return best;
}

/** The triangle that holds (x, y) and its weights, or null outside the mesh. For many points use `planLocator`. */
export function locate(mesh: PlanMesh, x: number, y: number): PlanLocation | null {
  return planLocator(mesh)(x, y);
}
