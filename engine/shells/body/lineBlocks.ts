import type { Polygon } from "#engine/geometry";

/** A closed line with a box round every few of its edges: what is far from a box is far from its edges. */
export interface LineBlocks {
  readonly line: Polygon;
  /** Least x, y, greatest x, y by block. */
  readonly boxes: Float64Array;
}

/** Edges in a block. */
const each = 12;

export function lineBlocks(line: Polygon): LineBlocks {
  const n = line.length / 2;
  const boxes = new Float64Array(4 * Math.ceil(n / each));
  for (let b = 0; b < boxes.length; b += 4) {
    boxes.fill(Number.POSITIVE_INFINITY, b, b + 2).fill(Number.NEGATIVE_INFINITY, b + 2, b + 4);
    const first = (b / 4) * each;
    for (let i = first; i <= Math.min(first + each, n); i++) {
      const p = 2 * (i % n);
      boxes[b] = Math.min(boxes[b], line[p]);
      boxes[b + 1] = Math.min(boxes[b + 1], line[p + 1]);
      boxes[b + 2] = Math.max(boxes[b + 2], line[p]);
      boxes[b + 3] = Math.max(boxes[b + 3], line[p + 1]);
    }
  }
  return { line, boxes };
}

/** The edge (number of its first point) of the line that is nearest to (x, y), among those nearer than `reach`; -1 if none is. */
export function nearestEdge({ line, boxes }: LineBlocks, x: number, y: number, reach: number): number {
  let least = reach * reach;
  let nearest = -1;
  const n = line.length / 2;
  for (let b = 0; b < boxes.length; b += 4) {
    const dx = Math.max(boxes[b] - x, x - boxes[b + 2], 0);
    const dy = Math.max(boxes[b + 1] - y, y - boxes[b + 3], 0);
    if (dx * dx + dy * dy >= least) continue;
    const first = (b / 4) * each;
    const last = Math.min(first + each, n);
    for (let i = first; i < last; i++) {
      const away = edgeDistance2(line, i, x, y);
      if (away >= least) continue;
      least = away;
      nearest = i;
    }
  }
  return nearest;
}

/** Square of the distance from (x, y) to edge i of a closed line. */
export function edgeDistance2(line: Polygon, i: number, x: number, y: number): number {
  const p = 2 * i;
  const q = p + 2 < line.length ? p + 2 : 0;
  const ex = line[q] - line[p];
  const ey = line[q + 1] - line[p + 1];
  const ax = x - line[p];
  const ay = y - line[p + 1];
  const squared = ex * ex + ey * ey;
  const f = squared === 0 ? 0 : Math.min(1, Math.max(0, (ax * ex + ay * ey) / squared));
  const dx = ax - f * ex;
  const dy = ay - f * ey;
  return dx * dx + dy * dy;
}
