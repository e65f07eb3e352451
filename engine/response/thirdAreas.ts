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
  const strip = rim && nearRim(top, rim);
  const whole = new Float64Array(3 * n);
  const inside = new Float64Array(3 * n);
  const total = new Float64Array(n);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = triangles[t];
    const b = triangles[t + 1];
    const c = triangles[t + 2];
    const ax = nodes[3 * a];
    const ay = nodes[3 * a + 1];
    const bx = nodes[3 * b];
    const by = nodes[3 * b + 1];
    const cx = nodes[3 * c];
    const cy = nodes[3 * c + 1];
    const area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
    const own = thirdOf(ax, tail, neck);
    const reach = Math.sqrt(Math.max((bx - ax) ** 2 + (by - ay) ** 2, (cx - ax) ** 2 + (cy - ay) ** 2));
    const clear = strip === null || strip.distance[a] - reach > strip.width;
    if (clear && own === thirdOf(bx, tail, neck) && own === thirdOf(cx, tail, neck)) {
      // Whole within a third: as many pieces give each corner a third of the area.
      const part = (area * CUTS * CUTS) / 3;
      share(total, whole, inside, n, own, a, part, true);
      share(total, whole, inside, n, own, b, part, true);
      share(total, whole, inside, n, own, c, part, true);
      continue;
    }
    for (let k = 0; k < pieces.length; k += 2) {
      const u = pieces[k];
      const v = pieces[k + 1];
      const w = 1 - u - v;
      const x = w * ax + u * bx + v * cx;
      const y = w * ay + u * by + v * cy;
      const third = thirdOf(x, tail, neck);
      const counts = strip === null || beyondRim(strip, nodes, a, x, y);
      share(total, whole, inside, n, third, a, area * w, counts);
      share(total, whole, inside, n, third, b, area * u, counts);
      share(total, whole, inside, n, third, c, area * v, counts);
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

/** 0 the upper, 2 the lower. */
function thirdOf(x: number, tail: number, neck: number): number {
  return Math.min(2, Math.max(0, Math.floor((3 * (neck - x)) / (neck - tail))));
}

function share(
  total: Float64Array,
  whole: Float64Array,
  inside: Float64Array,
  n: number,
  third: number,
  node: number,
  part: number,
  counts: boolean,
): void {
  const at = third * n + node;
  total[node] += part;
  whole[at] += part;
  if (counts) inside[at] += part;
}

/** Barycentric middles of the pieces of a triangle, pairs. */
const pieces = Float64Array.from({ length: 2 * CUTS * CUTS }, (_, at) => {
  const [i, j] = [Math.floor(at / 2 / CUTS), (at >> 1) % CUTS];
  const k = at % 2 === 0 ? i : j;
  // The square's other half is the turned pieces of the triangle.
  return i + j < CUTS ? (k + 1 / 3) / CUTS : (CUTS - k - 1 + 2 / 3) / CUTS;
});

/** Nearest edge of each node and how far it is; near a node only a few edges beside that one are asked. */
interface NearRim extends RimStrip {
  readonly nearest: Int32Array;
  readonly distance: Float64Array;
}

function nearRim({ nodeArea, mesh: { nodes } }: TopPlate, { outline, width }: RimStrip): NearRim {
  const count = nodeArea.length;
  const edges = outline.length / 2;
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
  return { outline, width, nearest, distance };
}

/** Whether a point near node k lies inside the strip. */
function beyondRim(
  { outline, width, nearest, distance }: NearRim,
  nodes: Float64Array,
  k: number,
  x: number,
  y: number,
): boolean {
  const p = nodes[3 * k] - x;
  const q = nodes[3 * k + 1] - y;
  if (distance[k] - Math.sqrt(p * p + q * q) > width) return true;
  const edges = outline.length / 2;
  for (let e = -BESIDE; e <= BESIDE; e++) {
    if (squareToEdge(outline, (nearest[k] + e + edges) % edges, x, y) < width * width) return false;
  }
  return true;
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
