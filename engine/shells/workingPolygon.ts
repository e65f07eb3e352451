import { anticlockwise, type Polygon } from "#engine/geometry";
import type { PanelPatch } from "./panel.ts";

/**
 * Width along a patch's edge, in patch thicknesses, that does not stiffen the plate: its square-cut edge carries no
 * stress and takes some of its height to pick it up (shear lag). Calibrated on solids (panel cases c09 to c11, an 8 mm
 * bridge; their README note c has about 3 mm for it). The mass counts in full.
 */
const patchLag = 0.3;

/** The part of a patch that stiffens the plate. */
export function workingPolygon(patch: PanelPatch): Polygon {
  return insetPolygon(patch.polygon, patchLag * patch.thickness);
}

/** The polygon with every edge moved inwards by `distance`; for distances well below its edges' lengths. */
export function insetPolygon(polygon: Polygon, distance: number): Polygon {
  const p = anticlockwise(polygon);
  const n = p.length / 2;
  const out = new Float64Array(p.length);
  for (let i = 0; i < n; i++) {
    const h = (i + n - 1) % n;
    const j = (i + 1) % n;
    const [ax, ay] = unit(p[2 * i] - p[2 * h], p[2 * i + 1] - p[2 * h + 1]);
    const [bx, by] = unit(p[2 * j] - p[2 * i], p[2 * j + 1] - p[2 * i + 1]);
    // inward normals (-ay, ax) and (-by, bx); their corner lies along the sum, longer by 1 / (1 + cos)
    const f = distance / Math.max(1 + ax * bx + ay * by, 0.2);
    out[2 * i] = p[2 * i] - f * (ay + by);
    out[2 * i + 1] = p[2 * i + 1] + f * (ax + bx);
  }
  return out;
}

function unit(x: number, y: number): readonly [number, number] {
  const size = Math.hypot(x, y);
  return [x / size, y / size];
}
