import { type Polygon, polygonArea, polygonCentroid } from "#engine/geometry";

/**
 * A hole cut into four-sided panels, thin along its edge. Every inner point of the hole belongs to its nearest edge
 * point, so edge point + depth along the inward normal, up to the depth at which another edge point comes nearer,
 * covers any shape exactly once (no centre is needed: crescents and bent slots as well).
 *
 *   edge  |-|--|---|----|-----|   inner ridge      depth = ridge depth x (1 - cos t),  t in equal steps to pi/2
 */
export interface HolePanels {
  readonly count: number;
  /** count x 8: corners x, y, anticlockwise. */
  readonly corners: Float64Array;
  /** count x 2. */
  readonly centroids: Float64Array;
  readonly areas: Float64Array;
  /** Length along the hole's edge of the panels that lie on it; 0 for the others. */
  readonly edge: Float64Array;
}

/** rows panels from edge to ridge, columns round the edge. The polygon is anticlockwise. */
export function holePanels(polygon: Polygon, columns: number, rows: number): HolePanels {
  const edge = evenly(polygon, columns);
  const dense = evenly(polygon, 6 * columns);
  const foot = new Float64Array(columns * 2);
  for (let i = 0; i < columns; i++) {
    const [px, py] = [edge[2 * i], edge[2 * i + 1]];
    const before = (i + columns - 1) % columns;
    const after = (i + 1) % columns;
    const tx = edge[2 * after] - edge[2 * before];
    const ty = edge[2 * after + 1] - edge[2 * before + 1];
    const length = Math.hypot(tx, ty);
    const nx = -ty / length;
    const ny = tx / length;
    const depth = ridgeDepth(dense, px, py, nx, ny, length / 4);
    foot[2 * i] = px + nx * depth;
    foot[2 * i + 1] = py + ny * depth;
  }
  const u = Float64Array.from({ length: rows + 1 }, (_, k) => 1 - Math.cos((0.5 * Math.PI * k) / rows));
  const corners: number[] = [];
  const edgeLengths: number[] = [];
  const at = (i: number, depth: number) => [
    edge[2 * i] + depth * (foot[2 * i] - edge[2 * i]),
    edge[2 * i + 1] + depth * (foot[2 * i + 1] - edge[2 * i + 1]),
  ];
  for (let i = 0; i < columns; i++) {
    const j = (i + 1) % columns;
    for (let k = 0; k < rows; k++) {
      const panel = [...at(i, u[k]), ...at(j, u[k]), ...at(j, u[k + 1]), ...at(i, u[k + 1])];
      // In a cusp the inward normals of its two sides cross: the panels there are inside out, and next to nothing in area.
      if (!turnsLeft(panel)) continue;
      corners.push(...panel);
      edgeLengths.push(k === 0 ? Math.hypot(panel[2] - panel[0], panel[3] - panel[1]) : 0);
    }
  }
  return { ...measured(Float64Array.from(corners)), edge: Float64Array.from(edgeLengths) };
}

/** Convex and anticlockwise, allowing two corners to coincide (on the ridge of a round hole they do). */
function turnsLeft(panel: readonly number[]): boolean {
  let area = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 8; k += 2) {
    const ax = panel[(k + 2) % 8] - panel[k];
    const ay = panel[(k + 3) % 8] - panel[k + 1];
    const bx = panel[(k + 4) % 8] - panel[(k + 2) % 8];
    const by = panel[(k + 5) % 8] - panel[(k + 3) % 8];
    const turn = ax * by - ay * bx;
    least = Math.min(least, turn);
    area += turn / 4;
  }
  return area > 0 && least >= -1e-3 * area;
}

/**
 * Greatest depth at which the ball touching the edge at p still holds no other edge point: min |q-p|^2 / (2 n.(q-p)).
 * Points nearer than `skip` tell of the chords of the polygon, not of the curve, and are left out.
 */
function ridgeDepth(edge: Polygon, px: number, py: number, nx: number, ny: number, skip: number): number {
  let depth = Number.POSITIVE_INFINITY;
  for (let q = 0; q < edge.length; q += 2) {
    const dx = edge[q] - px;
    const dy = edge[q + 1] - py;
    const inward = nx * dx + ny * dy;
    const square = dx * dx + dy * dy;
    if (inward > 0 && square > skip * skip) depth = Math.min(depth, square / (2 * inward));
  }
  return depth;
}

function measured(corners: Float64Array): Omit<HolePanels, "edge"> {
  const count = corners.length / 8;
  const centroids = new Float64Array(count * 2);
  const areas = new Float64Array(count);
  for (let p = 0; p < count; p++) {
    const quad = corners.subarray(8 * p, 8 * p + 8);
    areas[p] = polygonArea(quad);
    const [x, y] = polygonCentroid(quad);
    centroids[2 * p] = x;
    centroids[2 * p + 1] = y;
  }
  return { count, corners, centroids, areas };
}

/** count points at equal steps along the closed polygon, the first on its first corner. */
function evenly(polygon: Polygon, count: number): Polygon {
  const n = polygon.length / 2;
  const at = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    at[i + 1] = at[i] + Math.hypot(polygon[2 * j] - polygon[2 * i], polygon[2 * j + 1] - polygon[2 * i + 1]);
  }
  const out = new Float64Array(2 * count);
  let i = 0;
  for (let k = 0; k < count; k++) {
    const s = (at[n] * k) / count;
    while (i < n - 1 && at[i + 1] < s) i++;
    const j = (i + 1) % n;
    const f = (s - at[i]) / (at[i + 1] - at[i]);
    out[2 * k] = polygon[2 * i] + f * (polygon[2 * j] - polygon[2 * i]);
    out[2 * k + 1] = polygon[2 * i + 1] + f * (polygon[2 * j + 1] - polygon[2 * i + 1]);
  }
  return out;
}
