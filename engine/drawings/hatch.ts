/**
 * Parallel strokes at 45 degrees (rising to the right as seen) that fill a convex polygon, `spacing` apart, on one grid for
 * the whole sheet so that neighbouring cells run on. Coordinates of the sheet, y down. Returns one piece per stroke.
 */
export function hatch(polygon: Float64Array, spacing: number): readonly Float64Array[] {
  const count = polygon.length / 2;
  // Strokes are x + y = constant; the grid step in that constant is spacing times sqrt 2.
  const step = spacing * Math.SQRT2;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    const c = polygon[2 * i] + polygon[2 * i + 1];
    low = Math.min(low, c);
    high = Math.max(high, c);
  }
  const strokes: Float64Array[] = [];
  for (let c = Math.ceil(low / step) * step; c < high; c += step) {
    const ends: number[] = [];
    for (let i = 0; i < count; i++) {
      const j = (i + 1) % count;
      const a = polygon[2 * i] + polygon[2 * i + 1] - c;
      const b = polygon[2 * j] + polygon[2 * j + 1] - c;
      if (a < 0 === b < 0) continue;
      const t = a / (a - b);
      ends.push(
        polygon[2 * i] + t * (polygon[2 * j] - polygon[2 * i]),
        polygon[2 * i + 1] + t * (polygon[2 * j + 1] - polygon[2 * i + 1]),
      );
    }
    if (ends.length === 4) strokes.push(Float64Array.from(ends));
  }
  return strokes;
}
