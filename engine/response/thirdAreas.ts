import type { Polygon } from "#engine/geometry";
import type { ShellMesh } from "#engine/shells";
import type { RimStrip } from "./structureParts.ts";

/** 3 x nodes each, [upper, middle, lower], m2: a node's own area by the third it lies in. */
export interface ThirdAreas {
  readonly whole: Float64Array;
  /** Without the strip over side and lining. */
  readonly inside: Float64Array;
}

/** A top: its mesh and the area of each node. */
export interface TopPlate {
  readonly nodeArea: Float64Array;
  readonly mesh: Pick<ShellMesh, "nodes" | "triangles">;
}

/** Pieces along each side of a triangle: a dividing line through it is met to a sixteenth of its area. */
const CUTS = 4;

/**
 * Thirds of the top's length along the centreline, the upper one towards the neck. Triangles are cut into small ones, each
 * counted where its middle lies and shared out to the triangle's nodes as its place in it says, so that the areas do not
 * jump as the mesh moves.
 */
export function thirdAreas(top: TopPlate, rim: RimStrip | null): ThirdAreas {
  const { nodeArea, mesh } = top;
  const { nodes, triangles } = mesh;
  const n = nodeArea.length;
  let [tail, neck] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < n; k++) {
    tail = Math.min(tail, nodes[3 * k]);
    neck = Math.max(neck, nodes[3 * k]);
  }
  const thirdOf = (x: number) => {
    const third = Math.floor((3 * (neck - x)) / (neck - tail));
    return Math.min(2, Math.max(0, third));
  };
  const { beyondRim, farFromRim } = insideTest(top, rim);
  const whole = new Float64Array(3 * n);
  const inside = new Float64Array(3 * n);
  const total = new Float64Array(n);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const at = (k: number, d: number) => nodes[3 * k + d];
    const area =
      (at(b, 0) - at(a, 0)) * (at(c, 1) - at(a, 1)) - (at(c, 0) - at(a, 0)) * (at(b, 1) - at(a, 1));
    const own = thirdOf(at(a, 0));
    if (own === thirdOf(at(b, 0)) && own === thirdOf(at(c, 0)) && farFromRim(a, b, c)) {
      // Whole within a third: as many pieces give each corner a third of the area.
      const part = (area * CUTS * CUTS) / 3;
      for (const node of [a, b, c]) {
        total[node] += part;
        whole[own * n + node] += part;
        inside[own * n + node] += part;
      }
      continue;
    }
    for (const [u, v] of pieces) {
      const w = 1 - u - v;
      const x = w * at(a, 0) + u * at(b, 0) + v * at(c, 0);
      const y = w * at(a, 1) + u * at(b, 1) + v * at(c, 1);
      const third = thirdOf(x);
      const counts = beyondRim([a, b, c], x, y);
      for (const [node, part] of [[a, w] as const, [b, u] as const, [c, v] as const]) {
        total[node] += area * part;
        whole[third * n + node] += area * part;
        if (counts) inside[third * n + node] += area * part;
      }
    }
  }
  // Shares of what the plan gives to each node, times its true area on the dome.
  for (let k = 0; k < 3 * n; k++) {
    const scale = nodeArea[k % n] / total[k % n];
    whole[k] *= scale;
    inside[k] *= scale;
  }
  return { whole, inside };
}

/** Barycentric middles of the pieces of a triangle. */
const pieces = Array.from({ length: CUTS * CUTS }, (_, k) => {
  const [i, j] = [Math.floor(k / CUTS), k % CUTS];
  // The square's other half is the turned pieces of the triangle.
  return i + j < CUTS
    ? ([(i + 1 / 3) / CUTS, (j + 1 / 3) / CUTS] as const)
    : ([(CUTS - i - 1 + 2 / 3) / CUTS, (CUTS - j - 1 + 2 / 3) / CUTS] as const);
});

/** Whether a point of a triangle, and whether a whole triangle, lies inside the strip; the outline is asked only near it. */
function insideTest(
  top: TopPlate,
  rim: RimStrip | null,
): {
  readonly beyondRim: (corners: readonly number[], x: number, y: number) => boolean;
  readonly farFromRim: (a: number, b: number, c: number) => boolean;
} {
  if (rim === null) return { beyondRim: () => true, farFromRim: () => true };
  const { outline, width } = rim;
  const { nodes } = top.mesh;
  const count = top.nodeArea.length;
  const edges = outline.length / 2;
  // Nearest edge of each node and how far it is; near a node only a few edges beside that one are asked.
  const nearest = new Int32Array(count);
  const distance = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    let least = Number.POSITIVE_INFINITY;
    for (let e = 0; e < edges; e++) {
      const d = squareToEdge(outline, e, nodes[3 * k], nodes[3 * k + 1]);
      if (d < least) {
        least = d;
        nearest[k] = e;
      }
    }
    distance[k] = Math.sqrt(least);
  }
  const apart = (k: number, x: number, y: number) => Math.hypot(nodes[3 * k] - x, nodes[3 * k + 1] - y);
  return {
    beyondRim: ([k], x, y) => {
      if (distance[k] - apart(k, x, y) > width) return true;
      for (let e = -BESIDE; e <= BESIDE; e++) {
        if (squareToEdge(outline, (nearest[k] + e + edges) % edges, x, y) < width * width) return false;
      }
      return true;
    },
    farFromRim: (a, b, c) =>
      distance[a] -
        Math.max(apart(a, nodes[3 * b], nodes[3 * b + 1]), apart(a, nodes[3 * c], nodes[3 * c + 1])) >
      width,
  };
}

/** Edges looked at on either side of the one nearest to a corner: 4 mm each, for triangles of some 10 mm. */
const BESIDE = 8;

function squareToEdge(outline: Polygon, edge: number, x: number, y: number): number {
  const a = 2 * edge;
  const b = a + 2 === outline.length ? 0 : a + 2;
  const ux = outline[b] - outline[a];
  const uy = outline[b + 1] - outline[a + 1];
  const px = x - outline[a];
  const py = y - outline[a + 1];
  const length = ux * ux + uy * uy;
  const t = length > 0 ? Math.min(1, Math.max(0, (px * ux + py * uy) / length)) : 0;
  const dx = px - t * ux;
  const dy = py - t * uy;
  return dx * dx + dy * dy;
}
