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
  readonly at: (x: number, y: number) => number;
  /** Centres of the cells (side `size`) where the field may be below `size`. */
  readonly fineCells: readonly (readonly [number, number])[];
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
export function sizeField(sources: readonly SizeSource[], size: number, grading: number): SizeField {
  const kept = pruned(sources, size, grading);
  const cells = new Map<number, SizeSource[]>();
  const centres: [number, number][] = [];
  for (const s of kept) {
    const far = s.reach + (size - s.size) / grading;
    const [l, b, r, t] = [s.x - far, s.y - far, s.x + far, s.y + far].map((v) => Math.floor(v / size));
    for (let i = l!; i <= r!; i++) {
      for (let j = b!; j <= t!; j++) {
        const key = cellKey(i, j);
        const list = cells.get(key);
        if (list === undefined) {
          cells.set(key, [s]);
          centres.push([(i + 0.5) * size, (j + 0.5) * size]);
        } else list.push(s);
      }
    }
  }
  const at = (x: number, y: number): number => {
    const list = cells.get(cellKey(Math.floor(x / size), Math.floor(y / size)));
    if (list === undefined) return size;
    let h = size;
    for (const s of list) {
      // The list is in ascending order of size: the rest cannot ask for less.
      if (s.size >= h) break;
      const dx = x - s.x;
      const dy = y - s.y;
      const beyond = Math.sqrt(dx * dx + dy * dy) - s.reach;
      h = Math.min(h, s.size + (beyond > 0 ? grading * beyond : 0));
    }
    return h;
  };
  return { size, grading, at: kept.length === 0 ? () => size : at, fineCells: centres };
}
