import type { Point, Polyline } from "#engine/geometry";

/** How a stretch of the body frame lies on a sheet: m to mm, neck to the left for a right-handed guitar. */
export interface Placing {
  /** Sheet mm per metre of the guitar. */
  readonly mmPerMetre: number;
  readonly point: (x: number, y: number) => readonly [number, number];
  readonly chain: (points: Polyline) => Float64Array;
}

export interface Extent {
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
}

/**
 * Lays the guitar on the sheet as its player looks down on it: bass side at the lower edge, the neck to the left for a
 * right-handed guitar and to the right for a left-handed one (whose plan is already mirrored). Both are turns of the
 * plan, never a mirror image of it. `extent` (m, body frame) is centred in the given frame of the sheet.
 */
export function placeOnSheet(
  hand: "right" | "left",
  extent: Extent,
  frame: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  mmPerMetre: number,
): Placing {
  const way = hand === "right" ? -1 : 1;
  const midX = (extent.minX + extent.maxX) / 2;
  const midY = (extent.minY + extent.maxY) / 2;
  const centreX = frame.x + frame.width / 2;
  const centreY = frame.y + frame.height / 2;
  // Sheet y runs down: a half turn of the plan takes (x, y) to (-x, -y) with y up, which is (-x, +y) with y down.
  const point = (x: number, y: number): readonly [number, number] => [
    centreX + way * (x - midX) * mmPerMetre,
    centreY - way * (y - midY) * mmPerMetre,
  ];
  const chain = (points: Polyline): Float64Array => {
    const out = new Float64Array(points.length);
    for (let i = 0; i < points.length; i += 2) [out[i], out[i + 1]] = point(points[i], points[i + 1]);
    return out;
  };
  return { mmPerMetre, point, chain };
}

/** Smallest box round some chains and points. */
export function extentOf(chains: readonly Polyline[], points: readonly Point[] = []): Extent {
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity];
  const take = (x: number, y: number): void => {
    minX = Math.min(minX, x);
    maxX = Math.max(maxX, x);
    minY = Math.min(minY, y);
    maxY = Math.max(maxY, y);
  };
  for (const chain of chains) for (let i = 0; i < chain.length; i += 2) take(chain[i], chain[i + 1]);
  for (const [x, y] of points) take(x, y);
  return { minX, maxX, minY, maxY };
}

/** The strip of a straight bar: both edges along a chain of two or more points, `width` apart, as one closed polygon. */
export function strip(path: Polyline, width: number): Float64Array {
  const count = path.length / 2;
  const left: number[] = [];
  const right: number[] = [];
  for (let i = 0; i < count; i++) {
    const a = Math.max(0, i - 1);
    const b = Math.min(count - 1, i + 1);
    const dx = path[2 * b] - path[2 * a];
    const dy = path[2 * b + 1] - path[2 * a + 1];
    const scale = width / 2 / Math.hypot(dx, dy);
    left.push(path[2 * i] - dy * scale, path[2 * i + 1] + dx * scale);
    right.unshift(path[2 * i] + dy * scale, path[2 * i + 1] - dx * scale);
  }
  return Float64Array.from([...left, ...right]);
}
