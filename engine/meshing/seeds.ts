/** Inner nodes to start from: lattices of equilateral triangles, coarse and fine, kept clear of the given segments. */
import { segmentDistance2 } from "./chains.ts";
import { type SizeField, sizeAt } from "./sizing.ts";

/** Least distance of a seed from a segment, in sizes: below this, flat triangles appear. */
const clearance = 0.62;
const finestLevel = 5;

/** The segments in square cells, so that a place asks only those near it. */
interface SegmentGrid {
  readonly left: number;
  readonly bottom: number;
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  /** Segments within one cell of a cell (row by row): list[start[cell] .. start[cell + 1]). */
  readonly start: Uint32Array;
  readonly list: Uint32Array;
}

/** What seeds are offered to. */
interface Ground {
  readonly xy: Float64Array;
  /** Nodes of the closed boundary loops. */
  readonly loops: readonly Uint32Array[];
  /** 2 nodes by edge that must stay. */
  readonly segments: Uint32Array;
  readonly field: SizeField;
  readonly grid: SegmentGrid;
  readonly bounds: readonly [number, number, number, number];
  /** x of the loops' crossings with the rows looked at so far, by y. */
  readonly crossings: Map<number, Float64Array>;
  readonly seeds: number[];
}

/** Segments 2 nodes each, in cells of about the size; the bounds are those of all nodes. */
function segmentGrid(
  xy: Float64Array,
  segments: Uint32Array,
  [left, bottom, right, top]: readonly [number, number, number, number],
  cell: number,
): SegmentGrid {
  const columns = Math.floor((right - left) / cell) + 1;
  const rows = Math.floor((top - bottom) / cell) + 1;
  const start = new Uint32Array(columns * rows + 1);
  let list = new Uint32Array(0);
  let next = start;
  // First the segments of each cell are counted, then they are put in.
  for (let turn = 0; turn < 2; turn++) {
    for (let k = 0; k < segments.length; k += 2) {
      const a = 2 * segments[k];
      const b = 2 * segments[k + 1];
      const i0 = Math.max(0, Math.floor((Math.min(xy[a], xy[b]) - left) / cell) - 1);
      const i1 = Math.min(columns - 1, Math.floor((Math.max(xy[a], xy[b]) - left) / cell) + 1);
      const j0 = Math.max(0, Math.floor((Math.min(xy[a + 1], xy[b + 1]) - bottom) / cell) - 1);
      const j1 = Math.min(rows - 1, Math.floor((Math.max(xy[a + 1], xy[b + 1]) - bottom) / cell) + 1);
      for (let j = j0; j <= j1; j++) {
        for (let i = i0; i <= i1; i++) {
          if (turn === 0) start[j * columns + i + 1]++;
          else list[next[j * columns + i]++] = k;
        }
      }
    }
    if (turn === 1) break;
    for (let c = 0; c < columns * rows; c++) start[c + 1] += start[c];
    list = new Uint32Array(start[columns * rows]);
    next = start.slice();
  }
  return { left, bottom, cell, columns, rows, start, list };
}

/** Whether a segment passes within `least` (at most a cell) of (x, y). */
function isCrowded({ grid, xy, segments }: Ground, x: number, y: number, least: number): boolean {
  const i = Math.floor((x - grid.left) / grid.cell);
  const j = Math.floor((y - grid.bottom) / grid.cell);
  if (i < 0 || i >= grid.columns || j < 0 || j >= grid.rows) return false;
  const c = j * grid.columns + i;
  for (let k = grid.start[c]; k < grid.start[c + 1]; k++) {
    const a = 2 * segments[grid.list[k]];
    const b = 2 * segments[grid.list[k] + 1];
    if (segmentDistance2(x, y, xy[a], xy[a + 1], xy[b], xy[b + 1]) < least * least) return true;
  }
  return false;
}

/** x of the crossings of the horizontal line at y with the segments of the loops, ascending. */
function crossingsAt(y: number, xy: Float64Array, loops: readonly Uint32Array[]): Float64Array {
  const xs: number[] = [];
  for (const loop of loops) {
    let j = 2 * loop[loop.length - 1];
    for (let k = 0; k < loop.length; k++) {
      const i = 2 * loop[k];
      const yi = xy[i + 1];
      const yj = xy[j + 1];
      if (yi > y !== yj > y) xs.push(xy[i] + ((y - yi) / (yj - yi)) * (xy[j] - xy[i]));
      j = i;
    }
  }
  return Float64Array.from(xs).sort();
}

/** One row of a lattice from x = l on to before r; the crossings of the row with the loops tell what is inside. */
function fillRow(
  ground: Ground,
  x0: number,
  l: number,
  r: number,
  y: number,
  spacing: number,
  level: number,
): void {
  const { field, seeds } = ground;
  let crossings = ground.crossings.get(y);
  if (crossings === undefined) {
    crossings = crossingsAt(y, ground.xy, ground.loops);
    ground.crossings.set(y, crossings);
  }
  let passed = 0;
  for (let i = Math.ceil((l - x0) / spacing); x0 + i * spacing < r; i++) {
    const x = x0 + i * spacing;
    while (passed < crossings.length && crossings[passed] < x) passed++;
    if (passed % 2 === 0) continue;
    const h = sizeAt(field, x, y);
    if (h < spacing * Math.SQRT1_2 || (level > 0 && h >= spacing * Math.SQRT2)) continue;
    if (!isCrowded(ground, x, y, clearance * h)) seeds.push(x, y);
  }
}

/** The lattice of a level within l, b, r, t; its origin is the middle of the bounds. */
function fill(ground: Ground, l: number, b: number, r: number, t: number, level: number): void {
  const { bounds, field } = ground;
  const cx = (bounds[0] + bounds[2]) / 2;
  const cy = (bounds[1] + bounds[3]) / 2;
  const spacing = field.size / 2 ** level;
  const rise = (spacing * Math.sqrt(3)) / 2;
  for (let j = Math.ceil((b - cy) / rise); cy + j * rise < t; j++)
    fillRow(ground, cx + (j % 2 === 0 ? 0 : spacing / 2), l, r, cy + j * rise, spacing, level);
}

/**
 * Seeds, x,y by point. `xy` are the nodes so far, `loops` their closed boundary loops (node indices), `segments` all
 * edges that must stay, 2 nodes each, `bounds` those of the outline. Level k has spacing size/2^k and serves where the field
 * asks for about that.
 */
export function latticeSeeds(
  xy: Float64Array,
  loops: readonly Uint32Array[],
  segments: Uint32Array,
  field: SizeField,
  bounds: readonly [number, number, number, number],
): number[] {
  const { size } = field;
  const grid = segmentGrid(xy, segments, bounds, size);
  const ground = { xy, loops, segments, field, grid, bounds, crossings: new Map(), seeds: [] };
  fill(ground, bounds[0], bounds[1], bounds[2], bounds[3], 0);
  for (let c = 0; c < field.columns * field.rows; c++) {
    if (field.start[c] === field.start[c + 1]) continue;
    const x = ((c % field.columns) + field.left) * size;
    const y = (Math.floor(c / field.columns) + field.bottom) * size;
    if (x + size < bounds[0] || x > bounds[2] || y + size < bounds[1] || y > bounds[3]) continue;
    // The field grows by the grading, so its least value in the cell is not far below that at the centre.
    const least = sizeAt(field, x + size / 2, y + size / 2) - field.grading * size * Math.SQRT1_2;
    for (let level = 1; level <= finestLevel; level++) {
      if (least >= (size / 2 ** level) * Math.SQRT2) break;
      fill(ground, x, y, x + size, y + size, level);
    }
  }
  return ground.seeds;
}
