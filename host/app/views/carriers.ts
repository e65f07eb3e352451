import type { PlateMesh } from "#engine/drawings";

/** By point, the three nodes of a plate that carry it (indices) and what each counts (weights, sum 1 or 0: not carried). */
export interface Carriers {
  readonly nodes: Uint32Array;
  readonly weights: Float32Array;
}

/** Knows which triangle of a plate lies over a place. Made once for a plate. */
export interface PlateFinder {
  readonly nodes: Float64Array;
  /** The plate's edge, holes too, as pairs of nodes: sides of one triangle only. */
  readonly rim: Uint32Array;
  readonly within: (x: number, y: number) => readonly Held[] | null;
}

export function plateFinder(mesh: PlateMesh): PlateFinder {
  return { nodes: mesh.nodes, rim: rimOf(mesh), within: triangleFinder(mesh) };
}

function rimOf({ nodes, triangles }: PlateMesh): Uint32Array {
  const count = nodes.length / 2;
  const once = new Set<number>();
  for (let f = 0; f < triangles.length; f += 3)
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[f + k]!, triangles[f + ((k + 1) % 3)]!];
      const code = Math.min(a, b) * count + Math.max(a, b);
      if (!once.delete(code)) once.add(code);
    }
  return Uint32Array.from([...once].flatMap((code) => [Math.floor(code / count), code % count]));
}

/**
 * The corners of the triangle of a plate over each place in plan (x0, y0, ...), so that what is glued there rides on the plate as
 * it is drawn; beside the plate the three nearest nodes of its edge, weighted by the inverse square of their distance.
 */
export function carriersOf({ nodes: of, rim, within }: PlateFinder, plan: ArrayLike<number>): Carriers {
  const count = plan.length / 2;
  const nodes = new Uint32Array(3 * count);
  const weights = new Float32Array(3 * count);
  const edge = [...new Set(rim)];
  for (let p = 0; p < count; p++) {
    const [x, y] = [plan[2 * p]!, plan[2 * p + 1]!];
    const held = within(x, y) ?? nearestWeights(of, edge, x, y);
    held.forEach(({ node, weight }, k) => {
      nodes[3 * p + k] = node;
      weights[3 * p + k] = weight;
    });
  }
  return { nodes, weights };
}

/** The same places once for every share (0 to 1), row after row, carried in that part. */
export function carriedInRows({ nodes, weights }: Carriers, shares: readonly number[]): Carriers {
  const count = nodes.length;
  const rows: Carriers = {
    nodes: new Uint32Array(count * shares.length),
    weights: new Float32Array(count * shares.length),
  };
  shares.forEach((share, row) => {
    rows.nodes.set(nodes, row * count);
    rows.weights.set(
      weights.map((w) => share * w),
      row * count,
    );
  });
  return rows;
}

/** What the carried points move, given what the nodes move. */
export function carried({ nodes, weights }: Carriers, motion: ArrayLike<number>): Float32Array {
  return Float32Array.from({ length: nodes.length / 3 }, (_, p) => {
    let sum = 0;
    for (let k = 3 * p; k < 3 * p + 3; k++)
      if (weights[k] !== 0) sum += weights[k]! * (motion[nodes[k]!] ?? 0);
    return sum;
  });
}

interface Held {
  readonly node: number;
  readonly weight: number;
}

/** Squares of the net over a plate, each way. */
const netSize = 24;

/** Finds the triangle over a place: a net of squares knows which triangles touch each. */
function triangleFinder({ nodes, triangles }: PlateMesh): (x: number, y: number) => readonly Held[] | null {
  const of = (k: 0 | 1) => nodes.filter((_, i) => i % 2 === k);
  const least = (values: Float64Array) => values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const most = (values: Float64Array) => values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const [xs, ys] = [of(0), of(1)];
  const [minX, minY] = [least(xs), least(ys)];
  const square = Math.max(most(xs) - minX, most(ys) - minY, 1e-6) / netSize;
  const column = (v: number, from: number) => Math.floor((v - from) / square);
  const net = new Map<number, number[]>();
  for (let f = 0; f < triangles.length; f += 3) {
    const corners = [triangles[f]!, triangles[f + 1]!, triangles[f + 2]!];
    const [cx, cy] = [corners.map((n) => column(xs[n]!, minX)), corners.map((n) => column(ys[n]!, minY))];
    for (let i = Math.min(...cx); i <= Math.max(...cx); i++)
      for (let j = Math.min(...cy); j <= Math.max(...cy); j++) {
        const code = i * (netSize + 1) + j;
        const touching = net.get(code);
        if (touching === undefined) net.set(code, [f]);
        else touching.push(f);
      }
  }
  return (x, y) => {
    for (const f of net.get(column(x, minX) * (netSize + 1) + column(y, minY)) ?? []) {
      const held = cornersShare(nodes, triangles.subarray(f, f + 3), x, y);
      if (held !== null) return held;
    }
    return null;
  };
}

/** What each corner of a triangle counts at a place in it (areal coordinates); null outside. */
function cornersShare(
  nodes: Float64Array,
  [a, b, c]: Uint32Array,
  x: number,
  y: number,
): readonly Held[] | null {
  const at = (n: number) => [nodes[2 * n]! - x, nodes[2 * n + 1]! - y] as const;
  const [[ax, ay], [bx, by], [cx, cy]] = [at(a!), at(b!), at(c!)];
  const areas = [bx * cy - by * cx, cx * ay - cy * ax, ax * by - ay * bx];
  const whole = areas[0]! + areas[1]! + areas[2]!;
  if (whole === 0 || areas.some((area) => area / whole < -1e-9)) return null;
  return [a!, b!, c!].map((node, k) => ({ node, weight: areas[k]! / whole }));
}

function nearestWeights(nodes: Float64Array, edge: readonly number[], x: number, y: number): readonly Held[] {
  const best: { node: number; squared: number }[] = [];
  for (const node of edge) {
    const squared = (nodes[2 * node]! - x) ** 2 + (nodes[2 * node + 1]! - y) ** 2;
    if (best.length === 3 && squared >= best[2]!.squared) continue;
    const at = best.findIndex((other) => squared < other.squared);
    best.splice(at < 0 ? best.length : at, 0, { node, squared });
    if (best.length > 3) best.pop();
  }
  // 1e-9 m2: a place on a node is that node's
  const pull = best.map(({ squared }) => 1 / (squared + 1e-9));
  const sum = pull.reduce((a, b) => a + b, 0);
  return best.map(({ node }, k) => ({ node, weight: pull[k]! / sum }));
}
