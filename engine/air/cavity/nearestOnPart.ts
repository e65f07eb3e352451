/** The places of a structure's surface that lie over points of the cavity's wall. */

/** A surface that moves: triangles anticlockwise seen from outside, parts 0 top, 1 back, 2 side. */
export interface MovingWall {
  /** x, y, z by node, m. */
  readonly nodes: Float64Array;
  readonly triangles: Uint32Array;
  readonly part: Uint8Array;
}

/** Finds the place nearest to (x, y, z): its triangle comes back, the weights of the triangle's nodes in `weights` (3). */
export type NearestPlace = (x: number, y: number, z: number, weights: Float64Array) => number;

/**
 * Finds the place of one part that is nearest to a point: in plan for top and back (flat = true: z is left out), in space
 * for the sides. Triangles are sorted into columns over the plan about as wide as they are; columns are searched outward
 * until nothing nearer can come. null if the part has no triangle.
 */
export function nearestOnPart(wall: MovingWall, part: number, flat: boolean): NearestPlace | null {
  const { nodes, triangles } = wall;
  const own: number[] = [];
  for (let t = 0; t < wall.part.length; t++) if (wall.part[t] === part) own.push(t);
  if (own.length === 0) return null;
  const columns = planColumns(wall, own);
  const { x0, y0, cell, across, along, start, list } = columns;
  const up = flat ? 0 : 1;
  const found = new Float64Array(3);
  return (x, y, z, weights) => {
    const ci = Math.min(across - 1, Math.max(0, Math.floor((x - x0) / cell)));
    const cj = Math.min(along - 1, Math.max(0, Math.floor((y - y0) / cell)));
    let least = Number.POSITIVE_INFINITY;
    let best = own[0];
    for (let ring = 0; ring < across + along; ring++) {
      for (let j = Math.max(0, cj - ring); j <= Math.min(along - 1, cj + ring); j++) {
        const whole = j === cj - ring || j === cj + ring;
        for (let i = ci - ring; i <= ci + ring; i += whole ? 1 : Math.max(1, 2 * ring)) {
          if (i < 0 || i >= across) continue;
          const c = j * across + i;
          for (let k = start[c]; k < start[c + 1]; k++) {
            const square = nearOnTriangle(nodes, triangles, list[k], up, x, y, z, least, found);
            if (square >= least) continue;
            least = square;
            best = list[k];
            weights[0] = found[0];
            weights[1] = found[1];
            weights[2] = found[2];
            if (least === 0) return best;
          }
        }
      }
      // What lies in the next ring is at least `ring` whole cells away.
      if (least <= (ring * cell) ** 2) break;
    }
    return best;
  };
}

/** Triangles by square columns over the plan: list[start[c] .. start[c + 1]] of column c = row x across + column. */
function planColumns({ nodes, triangles }: MovingWall, own: readonly number[]) {
  const boxes = new Float64Array(4 * own.length);
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  let span = 0;
  own.forEach((t, k) => {
    const a = 3 * triangles[3 * t];
    const b = 3 * triangles[3 * t + 1];
    const c = 3 * triangles[3 * t + 2];
    boxes[4 * k] = Math.min(nodes[a], nodes[b], nodes[c]);
    boxes[4 * k + 1] = Math.min(nodes[a + 1], nodes[b + 1], nodes[c + 1]);
    boxes[4 * k + 2] = Math.max(nodes[a], nodes[b], nodes[c]);
    boxes[4 * k + 3] = Math.max(nodes[a + 1], nodes[b + 1], nodes[c + 1]);
    x0 = Math.min(x0, boxes[4 * k]);
    y0 = Math.min(y0, boxes[4 * k + 1]);
    x1 = Math.max(x1, boxes[4 * k + 2]);
    y1 = Math.max(y1, boxes[4 * k + 3]);
    span += Math.max(boxes[4 * k + 2] - boxes[4 * k], boxes[4 * k + 3] - boxes[4 * k + 1]);
  });
  const cell = span / own.length;
  const across = Math.floor((x1 - x0) / cell) + 1;
  const along = Math.floor((y1 - y0) / cell) + 1;
  const start = new Uint32Array(across * along + 1);
  let list = new Uint32Array(0);
  // Twice: first to count, then to put in.
  for (const counting of [true, false]) {
    own.forEach((t, k) => {
      for (
        let j = Math.floor((boxes[4 * k + 1] - y0) / cell);
        j <= Math.floor((boxes[4 * k + 3] - y0) / cell);
        j++
      ) {
        for (
          let i = Math.floor((boxes[4 * k] - x0) / cell);
          i <= Math.floor((boxes[4 * k + 2] - x0) / cell);
          i++
        ) {
          const c = j * across + i;
          if (counting) start[c]++;
          else list[--start[c]] = t;
        }
      }
    });
    if (!counting) break;
    for (let c = 1; c < start.length; c++) start[c] += start[c - 1];
    list = new Uint32Array(start[start.length - 1]);
  }
  return { x0, y0, cell, across, along, start, list };
}

/**
 * Squared distance of (x, y, up z) from a triangle, its place's weights in `weights`; a triangle whose plane is farther
 * than `enough` is not looked at closely.
 */
function nearOnTriangle(
  nodes: Float64Array,
  triangles: Uint32Array,
  t: number,
  up: number,
  x: number,
  y: number,
  z: number,
  enough: number,
  weights: Float64Array,
): number {
  const a = 3 * triangles[3 * t];
  const b = 3 * triangles[3 * t + 1];
  const c = 3 * triangles[3 * t + 2];
  const ux = nodes[b] - nodes[a];
  const uy = nodes[b + 1] - nodes[a + 1];
  const uz = up * (nodes[b + 2] - nodes[a + 2]);
  const vx = nodes[c] - nodes[a];
  const vy = nodes[c + 1] - nodes[a + 1];
  const vz = up * (nodes[c + 2] - nodes[a + 2]);
  const px = x - nodes[a];
  const py = y - nodes[a + 1];
  const pz = up * (z - nodes[a + 2]);
  const uu = ux * ux + uy * uy + uz * uz;
  const uv = ux * vx + uy * vy + uz * vz;
  const vv = vx * vx + vy * vy + vz * vz;
  const pu = px * ux + py * uy + pz * uz;
  const pv = px * vx + py * vy + pz * vz;
  const pp = px * px + py * py + pz * pz;
  const det = uu * vv - uv * uv;
  let wb = (pu * vv - pv * uv) / det;
  let wc = (pv * uu - pu * uv) / det;
  let square = pp - wb * pu - wc * pv;
  if (square >= enough) return square;
  if (wb >= 0 && wc >= 0 && wb + wc <= 1) {
    if (up === 0) square = 0; // but for rounding
  } else {
    // Outside: the nearest place of the three edges. |p - wb u - wc v|2 multiplied out.
    const onU = Math.min(1, Math.max(0, pu / uu));
    const onV = Math.min(1, Math.max(0, pv / vv));
    const onW = Math.min(1, Math.max(0, (pv - pu - uv + uu) / (uu - 2 * uv + vv)));
    const fromU = onU * (onU * uu - 2 * pu);
    const fromV = onV * (onV * vv - 2 * pv);
    const rest = 1 - onW;
    const fromW = rest * rest * uu + onW * onW * vv + 2 * (rest * onW * uv - rest * pu - onW * pv);
    if (fromU <= fromV && fromU <= fromW) {
      wb = onU;
      wc = 0;
      square = pp + fromU;
    } else if (fromV <= fromW) {
      wb = 0;
      wc = onV;
      square = pp + fromV;
    } else {
      wb = rest;
      wc = onW;
      square = pp + fromW;
    }
  }
  weights[0] = 1 - wb - wc;
  weights[1] = wb;
  weights[2] = wc;
  return Math.max(0, square);
}
