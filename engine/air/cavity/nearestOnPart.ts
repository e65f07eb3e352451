/** The places of a structure's surface that lie over points of the cavity's wall. */

/** A surface that moves: triangles anticlockwise seen from outside, parts 0 top, 1 back, 2 side. */
export interface MovingWall {
  /** x, y, z by node, m. */
  readonly nodes: Float64Array;
  readonly triangles: Uint32Array;
  readonly part: Uint8Array;
}

/** Weights of a triangle's three nodes at the place nearest to a point. */
export interface SurfacePlace {
  readonly triangle: number;
  readonly weights: readonly [number, number, number];
}

/**
 * Finds the place of one part that is nearest to a point: in plan for top and back (flat = true: z is left out), in space
 * for the sides. Triangles are sorted into columns over the plan about as wide as they are; columns are searched outward
 * until nothing nearer can come. null if the part has no triangle.
 */
export function nearestOnPart(
  wall: MovingWall,
  part: number,
  flat: boolean,
): ((x: number, y: number, z: number) => SurfacePlace) | null {
  const { nodes, triangles } = wall;
  const own: number[] = [];
  for (let t = 0; t < wall.part.length; t++) if (wall.part[t] === part) own.push(t);
  if (own.length === 0) return null;
  const boxes = own.map((t) => {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const low = (d: number) => Math.min(nodes[a + d], nodes[b + d], nodes[c + d]);
    const high = (d: number) => Math.max(nodes[a + d], nodes[b + d], nodes[c + d]);
    return [low(0), low(1), high(0), high(1)] as const;
  });
  const x0 = Math.min(...boxes.map((b) => b[0]));
  const y0 = Math.min(...boxes.map((b) => b[1]));
  let span = 0;
  for (const b of boxes) span += Math.max(b[2] - b[0], b[3] - b[1]);
  const cell = (1.2 * span) / boxes.length;
  const columns = Math.floor((Math.max(...boxes.map((b) => b[2])) - x0) / cell) + 1;
  const rows = Math.floor((Math.max(...boxes.map((b) => b[3])) - y0) / cell) + 1;
  const cells: number[][] = Array.from({ length: columns * rows }, () => []);
  own.forEach((t, k) => {
    const [l, b, r, u] = boxes[k];
    for (let i = Math.floor((l - x0) / cell); i <= Math.floor((r - x0) / cell); i++)
      for (let j = Math.floor((b - y0) / cell); j <= Math.floor((u - y0) / cell); j++)
        cells[j * columns + i].push(t);
  });
  return (x, y, z) => {
    const ci = Math.min(columns - 1, Math.max(0, Math.floor((x - x0) / cell)));
    const cj = Math.min(rows - 1, Math.max(0, Math.floor((y - y0) / cell)));
    let least = Number.POSITIVE_INFINITY;
    let best: SurfacePlace = { triangle: own[0], weights: [1, 0, 0] };
    for (let ring = 0; ring < columns + rows; ring++) {
      for (let i = Math.max(0, ci - ring); i <= Math.min(columns - 1, ci + ring); i++) {
        for (let j = Math.max(0, cj - ring); j <= Math.min(rows - 1, cj + ring); j++) {
          if (Math.max(Math.abs(i - ci), Math.abs(j - cj)) !== ring) continue;
          for (const t of cells[j * columns + i]) {
            const found = onTriangle(wall, t, flat, x, y, z);
            if (found.square < least) {
              least = found.square;
              best = { triangle: t, weights: found.weights };
            }
          }
        }
      }
      // What lies in the next ring is at least `ring` whole cells away.
      if (least <= (ring * cell) ** 2) break;
    }
    return best;
  };
}

/** Nearest place of one triangle, by the regions of its plane. Source: Ericson, Real-Time Collision Detection, 5.1.5 (from memory). */
function onTriangle(
  { nodes, triangles }: MovingWall,
  t: number,
  flat: boolean,
  x: number,
  y: number,
  z: number,
): { square: number; weights: [number, number, number] } {
  const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
  const up = flat ? 0 : 1;
  const [ux, uy, uz] = [nodes[b] - nodes[a], nodes[b + 1] - nodes[a + 1], up * (nodes[b + 2] - nodes[a + 2])];
  const [vx, vy, vz] = [nodes[c] - nodes[a], nodes[c + 1] - nodes[a + 1], up * (nodes[c + 2] - nodes[a + 2])];
  const [px, py, pz] = [x - nodes[a], y - nodes[a + 1], up * (z - nodes[a + 2])];
  const [uu, uv, vv] = [
    ux * ux + uy * uy + uz * uz,
    ux * vx + uy * vy + uz * vz,
    vx * vx + vy * vy + vz * vz,
  ];
  const [pu, pv] = [px * ux + py * uy + pz * uz, px * vx + py * vy + pz * vz];
  const det = uu * vv - uv * uv;
  let wb = (pu * vv - pv * uv) / det;
  let wc = (pv * uu - pu * uv) / det;
  if (wb < 0 || wc < 0 || wb + wc > 1) {
    const clamp = (v: number) => Math.min(1, Math.max(0, v));
    const onU = clamp(pu / uu);
    const onV = clamp(pv / vv);
    const onW = clamp((pv - pu - uv + uu) / (uu - 2 * uv + vv));
    let least = Number.POSITIVE_INFINITY;
    for (const [b2, c2] of [
      [onU, 0],
      [0, onV],
      [1 - onW, onW],
    ]) {
      const away =
        (px - b2 * ux - c2 * vx) ** 2 + (py - b2 * uy - c2 * vy) ** 2 + (pz - b2 * uz - c2 * vz) ** 2;
      if (away < least) [least, wb, wc] = [away, b2, c2];
    }
  }
  const square =
    (px - wb * ux - wc * vx) ** 2 + (py - wb * uy - wc * vy) ** 2 + (pz - wb * uz - wc * vz) ** 2;
  return { square, weights: [1 - wb - wc, wb, wc] };
}
