import { type Polygon, polygonBounds, polygonCentroid } from "#engine/geometry";
import { clippedPolygon, polygonMoments } from "../../triangleOverlap.ts";
import type { BodySystem } from "../bodyModel.ts";
import { type StringPull, stringLine } from "../staticLoads.ts";
import { glueEdge, rearEdges } from "./glueEdge.ts";
import type { GlueLineSpec, RangedStress } from "./glueSpec.ts";
import type { NodalStrains } from "./nodalStrains.ts";
import type { PlateGauge } from "./plateStress.ts";
import type { PlacedStress } from "./stressTypes.ts";

/** Forces and stresses between bridge and top under the strings; tension (opening) above zero, Pa. */
export interface GlueLine {
  /** Glued area, m2. */
  readonly area: number;
  /** Resultant of the strings on the bridge at the middle of the glue line: N along the plate, N off it, N m turning it towards the nut. */
  readonly pull: number;
  readonly lift: number;
  readonly couple: number;
  readonly shear: { readonly mean: number; readonly edge: RangedStress };
  readonly peel: {
    /** At the corner that is pulled most if the stress runs straight over the footprint, as under a rigid bridge on an even bed. */
    readonly straight: PlacedStress;
    /** N for each metre of the rear edge: all that pulls, gathered. */
    readonly perLength: number;
    /** At the rear edge, by the bending of the top behind it (glueEdge.ts): mean along the edge, and greatest. */
    readonly meanEdge: number;
    readonly edge: RangedStress;
  };
}

/**
 * The bridge's glue line. Mean values by statics of the bridge alone: it is drawn by the strings at their crowns and held by
 * stress that runs straight over its footprint (`land` of it is glued). Edge values by glueEdge.ts from the strains of the
 * top behind the bridge. Null where no such edge lies on the top.
 */
export function glueLine(
  system: BodySystem,
  gauge: PlateGauge,
  found: NodalStrains,
  pulls: readonly StringPull[],
  spec: GlueLineSpec,
): GlueLine | null {
  const { polygon, land } = spec;
  const [cx, cy] = polygonCentroid(polygon);
  const lines = pulls.map((pull) => ({
    ...stringLine(system, pull),
    tension: pull.tension,
    height: pull.crown.height,
  }));
  // the glue line lies half the plate's thickness over its mid-surface
  const face = spec.patches.length === 0 ? 0 : gaugeThickness(gauge, cx, cy) / 2;
  const force = [0, 0, 0];
  let [turnX, turnY] = [0, 0];
  for (const { from, along, tension, height } of lines) {
    for (let q = 0; q < 3; q++) force[q] += tension * along[q];
    const arm = [from[0] - cx, from[1] - cy, height - face] as const;
    turnX += tension * (arm[1] * along[2] - arm[2] * along[1]);
    turnY += tension * (arm[2] * along[0] - arm[0] * along[2]);
  }
  const s = secondMoments(polygon, cx, cy);
  // p = lift / A + a (x - cx) + b (y - cy) with int p x = -turnY, int p y = turnX
  const det = s.xx * s.yy - s.xy * s.xy;
  const a = (-turnY * s.yy - turnX * s.xy) / det;
  const b = (turnX * s.xx + turnY * s.xy) / det;
  const at = (x: number, y: number): number => (force[2] / s.area + a * (x - cx) + b * (y - cy)) / land;
  let straight: PlacedStress = { value: Number.NEGATIVE_INFINITY, x: cx, y: cy };
  for (let k = 0; k < polygon.length; k += 2) {
    const value = at(polygon[k], polygon[k + 1]);
    if (value > straight.value) straight = { value, x: polygon[k], y: polygon[k + 1] };
  }
  const rear = rearEdges(polygon);
  const edge = glueEdge(gauge, found, rear, spec);
  if (edge === null) return null;
  const length = rear.reduce((sum, e) => sum + e.length, 0);
  const pull = Math.hypot(force[0], force[1]);
  return {
    area: s.area * land,
    pull,
    lift: force[2],
    couple: turnY,
    shear: { mean: pull / (s.area * land), edge: edge.shear },
    peel: {
      straight,
      perLength: (land * tensionOver(polygon, at)) / length,
      meanEdge: edge.meanPeel,
      edge: edge.peel,
    },
  };
}

function gaugeThickness({ panel }: PlateGauge, x: number, y: number): number {
  const t = panel.thickness;
  if (typeof t === "number") return t;
  const nearest = [...t.spots].sort(
    (p, q) => Math.hypot(p[0] - x, p[1] - y) - Math.hypot(q[0] - x, q[1] - y),
  )[0];
  return nearest[2];
}

/** Area and second moments about a point, by Green's theorem. */
function secondMoments(p: Polygon, cx: number, cy: number) {
  const sums = { area: 0, xx: 0, xy: 0, yy: 0 };
  for (let i = 0; i < p.length; i += 2) {
    const j = (i + 2) % p.length;
    const [x0, y0, x1, y1] = [p[i] - cx, p[i + 1] - cy, p[j] - cx, p[j + 1] - cy];
    const w = x0 * y1 - x1 * y0;
    sums.area += w / 2;
    sums.xx += (w * (x0 * x0 + x0 * x1 + x1 * x1)) / 12;
    sums.yy += (w * (y0 * y0 + y0 * y1 + y1 * y1)) / 12;
    sums.xy += (w * (2 * x0 * y0 + x0 * y1 + x1 * y0 + 2 * x1 * y1)) / 24;
  }
  const sign = sums.area < 0 ? -1 : 1;
  return { area: sign * sums.area, xx: sign * sums.xx, xy: sign * sums.xy, yy: sign * sums.yy };
}

/** Integral (N) of a linear stress over the part of the polygon where it pulls. */
function tensionOver(polygon: Polygon, at: (x: number, y: number) => number): number {
  const [x0, y0, x1, y1] = polygonBounds(polygon);
  const [mx, my] = [(x0 + x1) / 2, (y0 + y1) / 2];
  const reach = 4 * Math.hypot(x1 - x0, y1 - y0);
  const middle = at(mx, my);
  const [gx, gy] = [(at(mx + reach, my) - middle) / reach, (at(mx, my + reach) - middle) / reach];
  const slope = Math.hypot(gx, gy);
  if (slope === 0) return Math.max(0, middle) * Math.abs(polygonMoments([...polygon])[0]);
  const [ux, uy] = [gx / slope, gy / slope];
  // a triangle that covers the half-plane of tension as far as the polygon goes
  const [px, py] = [mx - (ux * middle) / slope, my - (uy * middle) / slope];
  const big = Float64Array.of(
    px + 4 * reach * uy,
    py - 4 * reach * ux,
    px + 8 * reach * ux,
    py + 8 * reach * uy,
    px - 4 * reach * uy,
    py + 4 * reach * ux,
  );
  const [area, ix, iy] = polygonMoments(clippedPolygon(polygon, big));
  return Math.abs(area) === 0 ? 0 : Math.abs(area) * at(ix / area, iy / area);
}
