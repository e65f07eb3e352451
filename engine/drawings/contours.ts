import type { PlateMesh } from "./voiceView.ts";

/**
 * The region of a triangulated plate where a nodal value is at or above a level, as closed rings (linear within each
 * triangle): ends of rings on mesh edges are shared exactly, so rings close without tolerance. Pieces turn anticlockwise
 * round what they enclose and clockwise round its holes.
 *
 * Per triangle the level line is walked with the high side on its left; along the plate's edge the high part of each
 * boundary edge is walked in the triangle's own sense. Every point so met is left exactly once:
 *
 *          c (low)
 *         /  \          a, b high: the piece runs  edge bc -> edge ca,
 *     <--*----*         and the boundary edge ab, if it has no neighbour, a -> b.
 *       a      b
 */
export function regionAbove(
  mesh: PlateMesh,
  values: Float64Array,
  level: number,
  inner = innerEdges(mesh),
): readonly Float64Array[] {
  return chains(levelWalk(mesh, values, level, inner)).rings;
}

/** The line where the nodal value crosses a level: open chains that end on the plate's edge, and closed rings. */
export function levelLines(
  mesh: PlateMesh,
  values: Float64Array,
  level: number,
): { readonly open: readonly Float64Array[]; readonly rings: readonly Float64Array[] } {
  return chains(levelWalk(mesh, values, level, null));
}

interface Walk {
  readonly next: ReadonlyMap<number, number>;
  readonly place: ReadonlyMap<number, readonly [number, number]>;
}

/** Directed steps from point to point; a point is a mesh node (its index) or a cut mesh edge (a code above them). */
function levelWalk(
  mesh: PlateMesh,
  values: Float64Array,
  level: number,
  inner: ReadonlySet<number> | null,
): Walk {
  const { nodes, triangles } = mesh;
  const count = nodes.length / 2;
  const next = new Map<number, number>();
  const place = new Map<number, readonly [number, number]>();
  const high = (n: number) => values[n] >= level;
  const corner = (n: number): number => {
    place.set(n, [nodes[2 * n], nodes[2 * n + 1]]);
    return n;
  };
  const cut = (a: number, b: number): number => {
    const [low, up] = a < b ? [a, b] : [b, a];
    const code = count + low * count + up;
    if (!place.has(code)) {
      const t = (level - values[low]) / (values[up] - values[low]);
      place.set(code, [
        nodes[2 * low] + t * (nodes[2 * up] - nodes[2 * low]),
        nodes[2 * low + 1] + t * (nodes[2 * up + 1] - nodes[2 * low + 1]),
      ]);
    }
    return code;
  };
  for (let f = 0; f < triangles.length; f += 3) {
    let from = -1;
    let to = -1;
    if (!high(triangles[f]) && !high(triangles[f + 1]) && !high(triangles[f + 2])) continue;
    for (let k = 0; k < 3; k++) {
      const a = triangles[f + k];
      const b = triangles[f + ((k + 1) % 3)];
      const ha = high(a);
      const hb = high(b);
      if (ha && !hb) from = cut(a, b);
      if (!ha && hb) to = cut(a, b);
      if (inner === null || inner.has(Math.min(a, b) * count + Math.max(a, b))) continue;
      if (ha && hb) next.set(corner(a), corner(b));
      else if (ha) next.set(corner(a), cut(a, b));
      else if (hb) next.set(cut(a, b), corner(b));
    }
    // The high side lies on the left of a step that leaves over the falling edge and enters over the rising one.
    if (from >= 0 && to >= 0) next.set(from, to);
  }
  return { next, place };
}

/** How many rings of nodes inward from the edge may be eased. */
const easedRings = 4;

/**
 * The values with those near the plate's edge that are next to nothing (below `level`) made to follow their neighbours
 * further in. A held edge stands all but still, and the line of no motion would otherwise run along it for no reason.
 */
export function edgeEased(
  mesh: PlateMesh,
  values: Float64Array,
  level: number,
  inner = innerEdges(mesh),
): Float64Array {
  const { triangles } = mesh;
  const count = values.length;
  const eachEdge = (visit: (a: number, b: number) => void): void => {
    for (let f = 0; f < triangles.length; f += 3)
      for (let k = 0; k < 3; k++) visit(triangles[f + k], triangles[f + ((k + 1) % 3)]);
  };
  const weak = (n: number): boolean => Math.abs(values[n]) < level;
  // Weak nodes of the edge, then weak neighbours of those, ring after ring.
  let eased = new Uint8Array(count);
  eachEdge((a, b) => {
    if (inner.has(Math.min(a, b) * count + Math.max(a, b))) return;
    if (weak(a)) eased[a] = 1;
    if (weak(b)) eased[b] = 1;
  });
  for (let ring = 1; ring < easedRings; ring++) {
    const wider = Uint8Array.from(eased);
    eachEdge((a, b) => {
      if (eased[a] === 1 && weak(b)) wider[b] = 1;
      if (eased[b] === 1 && weak(a)) wider[a] = 1;
    });
    eased = wider;
  }
  // Their sign comes from outside them, one ring a pass.
  const out = values.map((v, n) => (eased[n] === 1 ? 0 : v));
  for (let pass = 0; pass < 2 * easedRings; pass++) {
    const sum = new Float64Array(count);
    eachEdge((a, b) => {
      sum[a] += out[b];
      sum[b] += out[a];
    });
    for (let n = 0; n < count; n++)
      if (eased[n] === 1 && out[n] === 0 && sum[n] !== 0) out[n] = Math.sign(sum[n]) * level;
  }
  return out;
}

/** Codes of the mesh edges that two triangles share. */
export function innerEdges({ nodes, triangles }: PlateMesh): ReadonlySet<number> {
  const count = nodes.length / 2;
  const seen = new Set<number>();
  const shared = new Set<number>();
  for (let f = 0; f < triangles.length; f += 3) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[f + k];
      const b = triangles[f + ((k + 1) % 3)];
      const code = Math.min(a, b) * count + Math.max(a, b);
      if (seen.has(code)) shared.add(code);
      seen.add(code);
    }
  }
  return shared;
}

function chains(walk: Walk): { open: Float64Array[]; rings: Float64Array[] } {
  const left = new Map(walk.next);
  const targets = new Set(walk.next.values());
  const open: Float64Array[] = [];
  const rings: Float64Array[] = [];
  const follow = (start: number): Float64Array => {
    const points: number[] = [];
    let at: number | undefined = start;
    while (at !== undefined) {
      points.push(...walk.place.get(at)!);
      const to: number | undefined = left.get(at);
      left.delete(at);
      if (to === start) break;
      at = to;
    }
    return Float64Array.from(points);
  };
  for (const start of walk.next.keys()) if (!targets.has(start)) open.push(follow(start));
  for (const start of walk.next.keys()) if (left.has(start)) rings.push(follow(start));
  return { open, rings };
}

/**
 * One node for every connected patch of the plate that moves by at least `level` one way: amid where it moves most. Returns
 * node indices, outward patches (positive) and inward ones (negative) together.
 */
export function antinodes(mesh: PlateMesh, values: Float64Array, level: number): readonly number[] {
  const count = values.length;
  const parent = Int32Array.from({ length: count }, (_, i) => i);
  const root = (n: number): number => {
    let at = n;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]];
      at = parent[at];
    }
    return at;
  };
  const used = new Set(mesh.triangles);
  const side = (n: number) => (!used.has(n) ? 0 : values[n] >= level ? 1 : values[n] <= -level ? -1 : 0);
  for (let f = 0; f < mesh.triangles.length; f += 3) {
    for (let k = 0; k < 3; k++) {
      const a = mesh.triangles[f + k];
      const b = mesh.triangles[f + ((k + 1) % 3)];
      if (side(a) !== 0 && side(a) === side(b)) parent[root(a)] = root(b);
    }
  }
  const peak = new Map<number, number>();
  const moving: number[] = [];
  for (let n = 0; n < count; n++) {
    if (side(n) === 0) continue;
    moving.push(n);
    const patch = root(n);
    peak.set(patch, Math.max(peak.get(patch) ?? 0, Math.abs(values[n])));
  }
  // The middle of what moves strongly, then the strong node nearest to it: well inside the patch, and never outside it.
  const strong = new Map<number, number[]>();
  for (const n of moving) {
    const patch = root(n);
    if (Math.abs(values[n]) >= 0.7 * peak.get(patch)!) gather(strong, patch, n);
  }
  return [...strong.values()].map((own) => {
    const mean = (axis: 0 | 1) => own.reduce((sum, n) => sum + mesh.nodes[2 * n + axis], 0) / own.length;
    const [x, y] = [mean(0), mean(1)];
    const off = (n: number) => Math.hypot(mesh.nodes[2 * n] - x, mesh.nodes[2 * n + 1] - y);
    return own.reduce((a, b) => (off(b) < off(a) ? b : a));
  });
}

function gather(lists: Map<number, number[]>, key: number, item: number): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [item]);
  else list.push(item);
}

/** Drops points of a chain that lie within `tolerance` of the straight line between the points kept (Douglas and Peucker 1973). */
export function thinned(points: Float64Array, tolerance: number): Float64Array {
  const count = points.length / 2;
  if (count < 3) return points;
  const keep = new Uint8Array(count);
  keep[0] = 1;
  keep[count - 1] = 1;
  const spans: [number, number][] = [[0, count - 1]];
  for (let span = spans.pop(); span !== undefined; span = spans.pop()) {
    const [a, b] = span;
    const dx = points[2 * b] - points[2 * a];
    const dy = points[2 * b + 1] - points[2 * a + 1];
    const length = Math.hypot(dx, dy);
    let far = tolerance;
    let at = -1;
    for (let i = a + 1; i < b; i++) {
      const ex = points[2 * i] - points[2 * a];
      const ey = points[2 * i + 1] - points[2 * a + 1];
      const off = length > 0 ? Math.abs(dx * ey - dy * ex) / length : Math.hypot(ex, ey);
      if (off > far) {
        far = off;
        at = i;
      }
    }
    if (at < 0) continue;
    keep[at] = 1;
    spans.push([a, at], [at, b]);
  }
  const out: number[] = [];
  for (let i = 0; i < count; i++) if (keep[i] === 1) out.push(points[2 * i], points[2 * i + 1]);
  return Float64Array.from(out);
}
