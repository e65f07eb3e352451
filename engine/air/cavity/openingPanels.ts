import { nearestOnPolyline, type Polyline, polygonArea, polylineLength } from "#engine/geometry";
import { holePanels } from "../holePanels.ts";
import type { PlanOpening } from "./cavityPlan.ts";
import { type CavitySpec, type RimThickness, topHeight } from "./cavitySpec.ts";

/** The opening as flat four-sided panels in space, thin along its free edge: the hole in the top, then a scooped side. */
export interface OpeningPanels {
  readonly count: number;
  /** 12 by panel: four corners, anticlockwise seen from outside. */
  readonly corners: Float64Array;
  readonly centroids: Float64Array;
  readonly normals: Float64Array;
  readonly areas: Float64Array;
  /** Length of free edge by panel, 0 inside. */
  readonly edge: Float64Array;
  /** m: thickness of the wall at the nearest place of the rim. */
  readonly wall: Float64Array;
  /** The true opening over that of the panels, which are inscribed in it. */
  readonly areaRatio: number;
}

/**
 * Panels on the inner faces: columns round the edge, rows from edge to ridge. The wall is taken to be as thick at
 * each panel as the rim next to it.
 */
export function openingPanels(
  spec: CavitySpec,
  opening: PlanOpening,
  columns: number,
  rows: number,
): OpeningPanels {
  const { hole, top } = spec;
  const plan = holePanels(opening.polygon, columns, rows);
  const z = (x: number, y: number) => topHeight(top, x, y);
  const corners: number[] = [];
  const edge: number[] = [];
  const wall: number[] = [];
  let planArea = 0;
  for (let p = 0; p < plan.count; p++) {
    for (let k = 0; k < 4; k++) {
      const [x, y] = [plan.corners[8 * p + 2 * k], plan.corners[8 * p + 2 * k + 1]];
      corners.push(x, y, z(x, y));
    }
    planArea += plan.areas[p];
    const [x, y] = [plan.centroids[2 * p], plan.centroids[2 * p + 1]];
    wall.push(hole === null ? 0 : rimThickness(hole.wall, x, y));
    // Where top and side open into each other there is no edge.
    const { scooped } = opening;
    const atCrease = scooped !== null && nearestOnPolyline(scooped, x, y).distance < Math.sqrt(plan.areas[p]);
    edge.push(atCrease ? 0 : plan.edge[p]);
  }
  if (hole !== null && opening.scooped !== null && hole.scoop.height > 0)
    sidePanels(opening.scooped, z, hole.scoop, rows, { corners, edge, wall });
  const sides = panelMeasures(Float64Array.from(corners));
  return {
    ...sides,
    edge: Float64Array.from(edge),
    wall: Float64Array.from(wall),
    areaRatio: polygonArea(opening.polygon) / planArea,
  };
}

function rimThickness(wall: RimThickness, x: number, y: number): number {
  if (typeof wall === "number") return wall;
  let best = Number.POSITIVE_INFINITY;
  let thickness = 0;
  wall.thickness.forEach((t, i) => {
    const d = (wall.points[2 * i] - x) ** 2 + (wall.points[2 * i + 1] - y) ** 2;
    if (d < best) {
      best = d;
      thickness = t;
    }
  });
  return thickness;
}

interface PanelLists {
  readonly corners: number[];
  readonly edge: number[];
  readonly wall: number[];
}

/** The scooped stretch of the side, from the top's inner face down by `height`; thin towards its ends and its lower edge. */
function sidePanels(
  stretch: Polyline,
  z: (x: number, y: number) => number,
  scoop: { readonly height: number; readonly wall: number },
  rows: number,
  into: PanelLists,
): void {
  const columns = 2 * rows;
  const length = polylineLength(stretch);
  const along = Array.from({ length: columns + 1 }, (_, k) =>
    pointAt(stretch, (length * (1 - Math.cos((Math.PI * k) / columns))) / 2),
  );
  const down = (k: number) => scoop.height * Math.sin((0.5 * Math.PI * k) / rows);
  for (let i = 0; i < columns; i++) {
    for (let k = 0; k < rows; k++) {
      const [a, b] = [along[i], along[i + 1]];
      const corner = (p: readonly [number, number], d: number) => into.corners.push(p[0], p[1], z(...p) - d);
      corner(a, down(k + 1));
      corner(b, down(k + 1));
      corner(b, down(k));
      corner(a, down(k));
      const width = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const ends = i === 0 || i === columns - 1 ? down(k + 1) - down(k) : 0;
      into.edge.push((k === rows - 1 ? width : 0) + ends);
      into.wall.push(scoop.wall);
    }
  }
}

function pointAt(chain: Polyline, s: number): readonly [number, number] {
  let left = s;
  for (let i = 0; i + 3 < chain.length; i += 2) {
    const [dx, dy] = [chain[i + 2] - chain[i], chain[i + 3] - chain[i + 1]];
    const length = Math.hypot(dx, dy);
    if (left <= length || i + 5 >= chain.length) {
      const f = length === 0 ? 0 : Math.min(1, left / length);
      return [chain[i] + f * dx, chain[i + 1] + f * dy];
    }
    left -= length;
  }
  return [chain[0], chain[1]];
}

/** Centroids, areas and normals of nearly flat quadrangles (corners may coincide). */
function panelMeasures(corners: Float64Array) {
  const count = corners.length / 12;
  const centroids = new Float64Array(3 * count);
  const normals = new Float64Array(3 * count);
  const areas = new Float64Array(count);
  for (let p = 0; p < count; p++) {
    const at = (k: number, d: number) => corners[12 * p + 3 * k + d];
    const n = [0, 0, 0];
    let twice = 0;
    for (const [a, b, c] of [
      [0, 1, 2],
      [0, 2, 3],
    ]) {
      const u = [0, 1, 2].map((d) => at(b, d) - at(a, d));
      const v = [0, 1, 2].map((d) => at(c, d) - at(a, d));
      const cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      const area = Math.hypot(...cross);
      twice += area;
      for (let d = 0; d < 3; d++) {
        n[d] += cross[d];
        centroids[3 * p + d] += (area * (at(a, d) + at(b, d) + at(c, d))) / 3;
      }
    }
    const length = Math.hypot(...n);
    areas[p] = length / 2;
    for (let d = 0; d < 3; d++) {
      centroids[3 * p + d] /= twice;
      normals[3 * p + d] = n[d] / length;
    }
  }
  return { count, corners, centroids, normals, areas };
}
