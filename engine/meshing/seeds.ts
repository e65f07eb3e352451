/** Inner nodes to start from: lattices of equilateral triangles, coarse and fine, kept clear of the given segments. */
import { segmentDistance2 } from "./chains.ts";
import { cellKey, type SizeField } from "./sizing.ts";

/** Least distance of a seed from a segment, in sizes: below this, flat triangles appear. */
const clearance = 0.62;
const finestLevel = 5;

/** x of the crossings of the horizontal line at y with the segments of the loops, ascending. */
function crossingsAt(y: number, xy: ArrayLike<number>, loops: readonly ArrayLike<number>[]): number[] {
  const xs: number[] = [];
  for (const loop of loops) {
    for (let k = 0; k < loop.length; k++) {
      const i = loop[k];
      const j = loop[(k + 1) % loop.length];
      const yi = xy[2 * i + 1];
      const yj = xy[2 * j + 1];
      if (yi > y === yj > y) continue;
      xs.push(xy[2 * i] + ((y - yi) / (yj - yi)) * (xy[2 * j] - xy[2 * i]));
    }
  }
  return xs.sort((a, b) => a - b);
}

/** Segments in square cells of a given side; answers the nearest within one cell. */
function segmentGrid(xy: ArrayLike<number>, segments: readonly (readonly [number, number])[], cell: number) {
  const cells = new Map<number, number[]>();
  segments.forEach(([a, b], k) => {
    const [x0, x1] = [xy[2 * a], xy[2 * b]].map((v) => Math.floor(v / cell)) as [number, number];
    const [y0, y1] = [xy[2 * a + 1], xy[2 * b + 1]].map((v) => Math.floor(v / cell)) as [number, number];
    for (let i = Math.min(x0, x1) - 1; i <= Math.max(x0, x1) + 1; i++) {
      for (let j = Math.min(y0, y1) - 1; j <= Math.max(y0, y1) + 1; j++) {
        const key = cellKey(i, j);
        const list = cells.get(key);
        if (list === undefined) cells.set(key, [k]);
        else list.push(k);
      }
    }
  });
  return (x: number, y: number): number => {
    let best = cell * cell;
    for (const k of cells.get(cellKey(Math.floor(x / cell), Math.floor(y / cell))) ?? []) {
      const [a, b] = segments[k];
      best = Math.min(best, segmentDistance2(x, y, xy[2 * a], xy[2 * a + 1], xy[2 * b], xy[2 * b + 1]).d2);
    }
    return Math.sqrt(best);
  };
}

/**
 * Seeds, x,y by point. `xy` are the nodes so far, `loops` their closed boundary loops (node indices), `segments` all
 * edges that must stay. Level k has spacing size/2^k and serves where the field asks for about that.
 */
export function latticeSeeds(
  xy: ArrayLike<number>,
  loops: readonly ArrayLike<number>[],
  segments: readonly (readonly [number, number])[],
  field: SizeField,
  centre: readonly [number, number],
  bounds: readonly [number, number, number, number],
): number[] {
  const seeds: number[] = [];
  const nearest = segmentGrid(xy, segments, field.size);
  const rows = new Map<number, number[]>();
  const inside = (x: number, y: number): boolean => {
    let row = rows.get(y);
    if (row === undefined) {
      row = crossingsAt(y, xy, loops);
      rows.set(y, row);
    }
    let n = 0;
    while (n < row.length && row[n] < x) n++;
    return n % 2 === 1;
  };
  const offer = (x: number, y: number, spacing: number, level: number): void => {
    const h = field.at(x, y);
    if (h < spacing * Math.SQRT1_2 || (level > 0 && h >= spacing * Math.SQRT2)) return;
    if (nearest(x, y) < clearance * h || !inside(x, y)) return;
    seeds.push(x, y);
  };
  const fill = (l: number, b: number, r: number, t: number, level: number): void => {
    const spacing = field.size / 2 ** level;
    const rise = (spacing * Math.sqrt(3)) / 2;
    for (let j = Math.ceil((b - centre[1]) / rise); centre[1] + j * rise < t; j++) {
      const shift = j % 2 === 0 ? 0 : spacing / 2;
      for (let i = Math.ceil((l - centre[0] - shift) / spacing); centre[0] + shift + i * spacing < r; i++) {
        offer(centre[0] + shift + i * spacing, centre[1] + j * rise, spacing, level);
      }
    }
  };
  fill(...bounds, 0);
  for (const [x, y] of field.fineCells) {
    const half = field.size / 2;
    if (x + half < bounds[0] || x - half > bounds[2] || y + half < bounds[1] || y - half > bounds[3])
      continue;
    // The field grows by the grading, so its least value in the cell is not far below that at the centre.
    const least = field.at(x, y) - field.grading * field.size * Math.SQRT1_2;
    for (let level = 1; level <= finestLevel; level++) {
      if (least >= (field.size / 2 ** level) * Math.SQRT2) break;
      fill(x - half, y - half, x + half, y + half, level);
    }
  }
  return seeds;
}
