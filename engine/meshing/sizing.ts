/**
 * The size wanted at a place: the general size, or less near small features, growing away from them by the grading:
 *   h(x) = min( size, min over sources ( h_i + grading * max(0, |x - x_i| - reach_i) ) )
 */
export interface SizeSource {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly reach: number;
}

export interface SizeField {
  readonly size: number;
  readonly grading: number;
  /** x, y, size, reach by source, the smallest size first. */
  readonly sources: Float64Array;
  /** Cells of side `size`: number of the first in x and in y, and how many. */
  readonly left: number;
  readonly bottom: number;
  readonly columns: number;
  readonly rows: number;
  /** Sources that may ask for less than `size` in a cell (row by row): list[start[cell] .. start[cell + 1]), ascending. */
  readonly start: Uint32Array;
  readonly list: Uint32Array;
}

/** The size wanted at (x, y), m. */
export function sizeAt(field: SizeField, x: number, y: number): number {
  const { size, sources, start, list, columns } = field;
  const i = Math.floor(x / size) - field.left;
  const j = Math.floor(y / size) - field.bottom;
  if (i < 0 || i >= columns || j < 0 || j >= field.rows) return size;
  const cell = j * columns + i;
  let h = size;
  for (let k = start[cell]; k < start[cell + 1]; k++) {
    const s = 4 * list[k];
    // The list is in ascending order of size: the rest cannot ask for less.
    if (sources[s + 2] >= h) break;
    const dx = x - sources[s];
    const dy = y - sources[s + 1];
    const beyond = Math.sqrt(dx * dx + dy * dy) - sources[s + 3];
    h = Math.min(h, sources[s + 2] + (beyond > 0 ? field.grading * beyond : 0));
  }
  return h;
}

/** A name for a square cell; exact while |i| and |j| stay below 2^25. */
export function cellKey(i: number, j: number): number {
  return i * 67108864 + j;
}

/** A source that another one already enforces, to 5 %, is of no use. Keeps the smallest first. */
function pruned(sources: readonly SizeSource[], size: number, grading: number): SizeSource[] {
  const sorted = sources
    .filter((s) => s.size < size)
    .sort((a, b) => a.size - b.size || a.x - b.x || a.y - b.y || b.reach - a.reach);
  const cell = size;
  const kept: SizeSource[] = [];
  const grid = new Map<number, SizeSource[]>();
  for (const s of sorted) {
    const cx = Math.floor(s.x / cell);
    const cy = Math.floor(s.y / cell);
    let needless = false;
    for (let i = -1; i <= 1 && !needless; i++) {
      for (let j = -1; j <= 1 && !needless; j++) {
        for (const k of grid.get(cellKey(cx + i, cy + j)) ?? []) {
          const d = Math.hypot(s.x - k.x, s.y - k.y);
          if (
            d + s.reach <= k.reach ||
            k.size + grading * Math.max(0, d + s.reach - k.reach) <= 1.05 * s.size
          ) {
            needless = true;
            break;
          }
        }
      }
    }
    if (needless) continue;
    kept.push(s);
    const key = cellKey(cx, cy);
    const list = grid.get(key);
    if (list === undefined) grid.set(key, [s]);
    else list.push(s);
  }
  return kept;
}

/** The field made by the sources; `size` m, `grading` m per m. */
export function sizeField(wishes: readonly SizeSource[], size: number, grading: number): SizeField {
  const kept = pruned(wishes, size, grading);
  const sources = new Float64Array(4 * kept.length);
  const reached = new Int32Array(4 * kept.length);
  let left = 0;
  let bottom = 0;
  let right = -1;
  let top = -1;
  for (let k = 0; k < kept.length; k++) {
    const s = kept[k];
    sources[4 * k] = s.x;
    sources[4 * k + 1] = s.y;
    sources[4 * k + 2] = s.size;
    sources[4 * k + 3] = s.reach;
    const far = s.reach + (size - s.size) / grading;
    reached[4 * k] = Math.floor((s.x - far) / size);
    reached[4 * k + 1] = Math.floor((s.y - far) / size);
    reached[4 * k + 2] = Math.floor((s.x + far) / size);
    reached[4 * k + 3] = Math.floor((s.y + far) / size);
    left = k === 0 ? reached[0] : Math.min(left, reached[4 * k]);
    bottom = k === 0 ? reached[1] : Math.min(bottom, reached[4 * k + 1]);
    right = k === 0 ? reached[2] : Math.max(right, reached[4 * k + 2]);
    top = k === 0 ? reached[3] : Math.max(top, reached[4 * k + 3]);
  }
  const [columns, rows] = [right - left + 1, top - bottom + 1];
  const start = new Uint32Array(columns * rows + 1);
  const eachCell = (take: (cell: number, k: number) => void): void => {
    for (let k = 0; k < kept.length; k++) {
      for (let j = reached[4 * k + 1] - bottom; j <= reached[4 * k + 3] - bottom; j++)
        for (let i = reached[4 * k] - left; i <= reached[4 * k + 2] - left; i++) take(j * columns + i, k);
    }
  };
  eachCell((cell) => start[cell + 1]++);
  for (let cell = 0; cell < columns * rows; cell++) start[cell + 1] += start[cell];
  const list = new Uint32Array(start[columns * rows]);
  const next = start.slice();
  eachCell((cell, k) => {
    list[next[cell]++] = k;
  });
  return { size, grading, sources, left, bottom, columns, rows, start, list };
}
