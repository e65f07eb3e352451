import type { CavityMesh } from "./cavityMesh.ts";
import type { OpeningPanels } from "./openingPanels.ts";
import { lineShapes, triangleShapes } from "./quadratic.ts";

/**
 * Loads on the field's nodes of patterns of flow through the panels (patterns x panels -> patterns x n): each panel's flow
 * acts at its middle, on the top under it, or on the side behind it where the side is scooped.
 */
export function openingLoads(mesh: CavityMesh, panels: OpeningPanels, patterns: Float64Array): Float64Array {
  const { plan, levels } = mesh;
  const n = (plan.nodes.length / 2) * levels;
  const count = patterns.length / panels.count;
  const loads = new Float64Array(count * n);
  for (let p = 0; p < panels.count; p++) {
    const upright = Math.abs(panels.normals[3 * p + 2]) < 0.5;
    const { nodes, shape } = upright ? placeOnSide(mesh, panels, p) : placeOnTop(mesh, panels, p);
    for (let b = 0; b < count; b++) {
      const flow = patterns[b * panels.count + p];
      for (let i = 0; i < nodes.length; i++) loads[b * n + nodes[i]] += flow * shape[i];
    }
  }
  return loads;
}

interface Place {
  readonly nodes: readonly number[];
  readonly shape: ArrayLike<number>;
}

function placeOnTop(mesh: CavityMesh, panels: OpeningPanels, p: number): Place {
  const { plan, levels } = mesh;
  const { nodes: xy, triangles: six, inHole } = plan;
  const x = panels.centroids[3 * p];
  const y = panels.centroids[3 * p + 1];
  let best = 0;
  let most = Number.NEGATIVE_INFINITY;
  let u = 0;
  let v = 0;
  for (let t = 0; t < inHole.length; t++) {
    if (inHole[t] === 0) continue;
    const a = 2 * six[6 * t];
    const b = 2 * six[6 * t + 1];
    const c = 2 * six[6 * t + 2];
    const bx = xy[b] - xy[a];
    const by = xy[b + 1] - xy[a + 1];
    const cx = xy[c] - xy[a];
    const cy = xy[c + 1] - xy[a + 1];
    const dx = x - xy[a];
    const dy = y - xy[a + 1];
    const det = bx * cy - by * cx;
    const alongB = (dx * cy - dy * cx) / det;
    const alongC = (bx * dy - by * dx) / det;
    const least = Math.min(alongB, alongC, 1 - alongB - alongC);
    if (least <= most) continue;
    most = least;
    best = t;
    u = alongB;
    v = alongC;
  }
  const value = new Float64Array(6);
  const du = new Float64Array(6);
  const dv = new Float64Array(6);
  // Newton on the curved triangle; the straight one is the first guess and is nearly right.
  for (let k = 0; k < 4; k++) {
    triangleShapes(u, v, value, du, dv);
    let fx = -x;
    let fy = -y;
    let xu = 0;
    let xv = 0;
    let yu = 0;
    let yv = 0;
    for (let i = 0; i < 6; i++) {
      const q = 2 * six[6 * best + i];
      fx += xy[q] * value[i];
      fy += xy[q + 1] * value[i];
      xu += xy[q] * du[i];
      xv += xy[q] * dv[i];
      yu += xy[q + 1] * du[i];
      yv += xy[q + 1] * dv[i];
    }
    const det = xu * yv - xv * yu;
    u -= (fx * yv - fy * xv) / det;
    v -= (xu * fy - yu * fx) / det;
  }
  triangleShapes(u, v, value, du, dv);
  const list = Array.from(six.subarray(6 * best, 6 * best + 6));
  return { nodes: list.map((q) => q * levels + levels - 1), shape: value };
}

function placeOnSide(mesh: CavityMesh, panels: OpeningPanels, p: number): Place {
  const { plan, levels, layers, bottom, top } = mesh;
  const { nodes: xy, rim, open } = plan;
  const [x, y, z] = panels.centroids.subarray(3 * p, 3 * p + 3);
  let best = { distance: Number.POSITIVE_INFINITY, e: 0, t: 0 };
  for (let e = 0; e < open.length; e++) {
    if (open[e] === 0) continue;
    const [a, c] = [2 * rim[3 * e], 2 * rim[3 * e + 2]];
    const [ex, ey] = [xy[c] - xy[a], xy[c + 1] - xy[a + 1]];
    const t = Math.min(1, Math.max(0, ((x - xy[a]) * ex + (y - xy[a + 1]) * ey) / (ex * ex + ey * ey)));
    const distance = Math.hypot(xy[a] + t * ex - x, xy[a + 1] + t * ey - y);
    if (distance < best.distance) best = { distance, e, t };
  }
  const three = Array.from(rim.subarray(3 * best.e, 3 * best.e + 3));
  const [l, m, d] = [new Float64Array(3), new Float64Array(3), new Float64Array(3)];
  lineShapes(best.t, l, d);
  const at = (heights: Float64Array) => three.reduce((sum, q, i) => sum + heights[q] * l[i], 0);
  const s = Math.min(1, Math.max(0, (z - at(bottom)) / (at(top) - at(bottom))));
  const layer = Math.min(layers - 1, Math.floor(s * layers));
  lineShapes(s * layers - layer, m, d);
  const nodes: number[] = [];
  const shape: number[] = [];
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      nodes.push(three[i] * levels + 2 * layer + j);
      shape.push(l[i] * m[j]);
    }
  }
  return { nodes, shape };
}
