import type { PlateMesh } from "#engine/drawings";

/** By point, the three nodes of a plate that carry it (indices) and what each counts (weights, sum 1 or 0: not carried). */
export interface Carriers {
  readonly nodes: Uint32Array;
  readonly weights: Float32Array;
}

/**
 * The corners of the triangle of a plate over each place in plan (x0, y0, ...), so that what is glued there rides on the plate as
 * it is drawn; beside the plate its three nearest nodes, weighted by the inverse square of their distance. `share` scales the
 * weights of each place.
 */
export function carriersOf(
  mesh: PlateMesh,
  plan: ArrayLike<number>,
  share: (place: number) => number = () => 1,
): Carriers {
  const count = plan.length / 2;
  const nodes = new Uint32Array(3 * count);
  const weights = new Float32Array(3 * count);
  const used = [...new Set(mesh.triangles)];
  const within = triangleFinder(mesh);
  for (let p = 0; p < count; p++) {
    const wanted = share(p);
    if (wanted === 0) continue;
    const [x, y] = [plan[2 * p]!, plan[2 * p + 1]!];
    const held = within(x, y) ?? nearestWeights(mesh.nodes, used, x, y);
    held.forEach(({ node, weight }, k) => {
      nodes[3 * p + k] = node;
      weights[3 * p + k] = wanted * weight;
    });
  }
  return { nodes, weights };
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

/** Finds the triangle over a place by the box round each triangle first. */
function triangleFinder({ nodes, triangles }: PlateMesh): (x: number, y: number) => readonly Held[] | null {
  const count = triangles.length / 3;
  const boxes = new Float64Array(4 * count);
  for (let f = 0; f < count; f++) {
    const [xs, ys] = [0, 1].map((k) => [0, 1, 2].map((c) => nodes[2 * triangles[3 * f + c]! + k]!));
    boxes.set([Math.min(...xs!), Math.max(...xs!), Math.min(...ys!), Math.max(...ys!)], 4 * f);
  }
  return (x, y) => {
    for (let f = 0; f < count; f++) {
      if (x < boxes[4 * f]! || x > boxes[4 * f + 1]! || y < boxes[4 * f + 2]! || y > boxes[4 * f + 3]!)
        continue;
      const held = cornersShare(nodes, triangles.subarray(3 * f, 3 * f + 3), x, y);
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

function nearestWeights(nodes: Float64Array, used: readonly number[], x: number, y: number): readonly Held[] {
  const best: { node: number; squared: number }[] = [];
  for (const node of used) {
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
