import { invariant } from "#engine/numerics";
import type { ExteriorPart, ExteriorSurface } from "./exterior.ts";

/** The panel of one part that lies nearest to each of some points (x,y,z by point, m); the first of equals. */
export function panelsUnder(
  surface: ExteriorSurface,
  points: Float64Array,
  part: ExteriorPart,
  out = new Uint32Array(points.length / 3),
): Uint32Array {
  const { nodes, triangles } = surface;
  const candidates: number[] = [];
  for (let t = 0; t < triangles.length / 3; t++) if (surface.part[t] === part) candidates.push(t);
  invariant(candidates.length > 0 || points.length === 0, () => `the surface has no panel of part ${part}`);
  const boxes = new Float64Array(6 * candidates.length);
  let cell = 0;
  for (let i = 0; i < candidates.length; i++) {
    const t = 3 * candidates[i];
    for (let d = 0; d < 3; d++) {
      const a = nodes[3 * triangles[t] + d];
      const b = nodes[3 * triangles[t + 1] + d];
      const c = nodes[3 * triangles[t + 2] + d];
      const low = Math.min(a, b, c);
      const high = Math.max(a, b, c);
      boxes[6 * i + d] = low;
      boxes[6 * i + 3 + d] = high;
      cell = Math.max(cell, high - low);
    }
  }
  // Panels by the cubes they come near to; a point looks in its own cube, and everywhere if nothing is there.
  const cubes = new Map<number, number[]>();
  const cube = (value: number): number => Math.floor(value / cell);
  for (let i = 0; i < candidates.length; i++) {
    const o = 6 * i;
    for (let x = cube(boxes[o] - 0.25 * cell); x <= cube(boxes[o + 3] + 0.25 * cell); x++)
      for (let y = cube(boxes[o + 1] - 0.25 * cell); y <= cube(boxes[o + 4] + 0.25 * cell); y++)
        for (let z = cube(boxes[o + 2] - 0.25 * cell); z <= cube(boxes[o + 5] + 0.25 * cell); z++) {
          const key = cubeKey(x, y, z);
          const list = cubes.get(key);
          if (list === undefined) cubes.set(key, [i]);
          else list.push(i);
        }
  }
  const all = candidates.map((_, i) => i);
  // Points come in order of place: the last one's panel bounds the distance, and boxes beyond that need no closer look.
  let last = 0;
  for (let p = 0; p < points.length / 3; p++) {
    const x = points[3 * p];
    const y = points[3 * p + 1];
    const z = points[3 * p + 2];
    const key = cubeKey(Math.floor(x / cell), Math.floor(y / cell), Math.floor(z / cell));
    const guess = squaredDistance(nodes, triangles, candidates[last], x, y, z, Number.POSITIVE_INFINITY);
    let least = guess * (1 + 1e-9) + 1e-18 * cell * cell; // no tie is decided by the guess
    for (const i of cubes.get(key) ?? all) {
      if (beyondBox(boxes, 6 * i, x, y, z) >= least) continue;
      const away = squaredDistance(nodes, triangles, candidates[i], x, y, z, least);
      if (away < least) {
        least = away;
        last = i;
      }
    }
    out[p] = candidates[last];
  }
  return out;
}

/** Squared distance of a point from a box (3 lower, 3 upper bounds). */
function beyondBox(boxes: Float64Array, o: number, x: number, y: number, z: number): number {
  const dx = x < boxes[o] ? boxes[o] - x : x > boxes[o + 3] ? x - boxes[o + 3] : 0;
  const dy = y < boxes[o + 1] ? boxes[o + 1] - y : y > boxes[o + 4] ? y - boxes[o + 4] : 0;
  const dz = z < boxes[o + 2] ? boxes[o + 2] - z : z > boxes[o + 5] ? z - boxes[o + 5] : 0;
  return dx * dx + dy * dy + dz * dz;
}

/** A name for a cube; exact while all three numbers stay within 2^16. */
function cubeKey(x: number, y: number, z: number): number {
  return (x * 131072 + y) * 131072 + z;
}

/** Squared distance of a point from a triangle, m2; not below `enough` may come out less exact. */
function squaredDistance(
  nodes: Float64Array,
  triangles: Uint32Array,
  t: number,
  x: number,
  y: number,
  z: number,
  enough: number,
): number {
  const a = 3 * triangles[3 * t];
  const b = 3 * triangles[3 * t + 1];
  const c = 3 * triangles[3 * t + 2];
  const ux = nodes[b] - nodes[a];
  const uy = nodes[b + 1] - nodes[a + 1];
  const uz = nodes[b + 2] - nodes[a + 2];
  const vx = nodes[c] - nodes[a];
  const vy = nodes[c + 1] - nodes[a + 1];
  const vz = nodes[c + 2] - nodes[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const square = nx * nx + ny * ny + nz * nz;
  const px = x - nodes[a];
  const py = y - nodes[a + 1];
  const pz = z - nodes[a + 2];
  const height = px * nx + py * ny + pz * nz;
  const off = (height * height) / square;
  if (off >= enough) return off;
  // Weights of corners b and c of the foot.
  const wb = ((py * vz - pz * vy) * nx + (pz * vx - px * vz) * ny + (px * vy - py * vx) * nz) / square;
  const wc = ((uy * pz - uz * py) * nx + (uz * px - ux * pz) * ny + (ux * py - uy * px) * nz) / square;
  if (wb >= 0 && wc >= 0 && wb + wc <= 1) return off;
  return Math.min(
    fromEdge(px, py, pz, ux, uy, uz),
    fromEdge(px, py, pz, vx, vy, vz),
    fromEdge(px - ux, py - uy, pz - uz, vx - ux, vy - uy, vz - uz),
  );
}

function fromEdge(px: number, py: number, pz: number, ex: number, ey: number, ez: number): number {
  const along = Math.min(1, Math.max(0, (px * ex + py * ey + pz * ez) / (ex * ex + ey * ey + ez * ez)));
  return (px - along * ex) ** 2 + (py - along * ey) ** 2 + (pz - along * ez) ** 2;
}
