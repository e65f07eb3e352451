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
  candidates.forEach((t, i) => {
    for (let d = 0; d < 3; d++) {
      const at = [0, 1, 2].map((m) => nodes[3 * triangles[3 * t + m] + d]);
      boxes[6 * i + d] = Math.min(...at);
      boxes[6 * i + 3 + d] = Math.max(...at);
      cell = Math.max(cell, boxes[6 * i + 3 + d] - boxes[6 * i + d]);
    }
  });
  // Panels by the cubes they come near to; a point looks in its own cube, and everywhere if nothing is there.
  const margin = 0.25 * cell;
  const cubes = new Map<number, number[]>();
  candidates.forEach((t, i) => {
    const [l, h] = [0, 3].map((o) =>
      [0, 1, 2].map((d) => Math.floor((boxes[6 * i + o + d] + (o === 0 ? -margin : margin)) / cell)),
    );
    for (let x = l[0]; x <= h[0]; x++)
      for (let y = l[1]; y <= h[1]; y++)
        for (let z = l[2]; z <= h[2]; z++) {
          const key = cubeKey(x, y, z);
          const list = cubes.get(key);
          if (list === undefined) cubes.set(key, [t]);
          else list.push(t);
        }
  });
  for (let p = 0; p < points.length / 3; p++) {
    const x = points[3 * p];
    const y = points[3 * p + 1];
    const z = points[3 * p + 2];
    const key = cubeKey(Math.floor(x / cell), Math.floor(y / cell), Math.floor(z / cell));
    let least = Number.POSITIVE_INFINITY;
    for (const t of cubes.get(key) ?? candidates) {
      const away = squaredDistance(nodes, triangles, t, x, y, z, least);
      if (away < least) {
        least = away;
        out[p] = t;
      }
    }
  }
  return out;
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
