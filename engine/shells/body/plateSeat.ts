import {
  anticlockwise,
  clipSegment,
  type Polygon,
  type Polyline,
  pointInPolygon,
  polygonArea,
  polygonDifference,
  polygonIntersection,
} from "#engine/geometry";
import { done, failed, type Outcome } from "#engine/numerics";
import type { Panel, PanelRib } from "../panel.ts";
import { insetPolygon } from "../workingPolygon.ts";
import type { BodyShellSpec, LiningSpec, SidesSpec } from "./bodySpec.ts";

/** Nearer than this two corners are one, m: a tenth of what a hand can cut. */
const snap = 1e-5;

/** Whole thickness of the side's wood. */
export function sideThickness(sides: SidesSpec): number {
  return sides.plies.reduce((sum, ply) => sum + ply.thickness, 0);
}

/** Plan of the side's mid-surface: the outer outline moved in by half the side's thickness; anticlockwise. */
export function sideLine(sides: SidesSpec): Polygon {
  return insetPolygon(anticlockwise(sides.outline), sideThickness(sides) / 2);
}

/**
 * The plate as it is modelled: cut back to the side's mid-surface, where plate and side join (the strip of half a side's
 * thickness left outside rides on the edge as mass), its ribs shortened to what lies on it. Without sides: unchanged.
 * Fails: 'plate-outside' where plate and sides share no plan.
 */
export function seatedPanel(spec: BodyShellSpec, which: "top" | "back"): Outcome<Panel | null> {
  const panel = spec[which];
  if (panel === null || spec.sides === null) return done(panel);
  const inner = sideLine(spec.sides);
  const largest = (pieces: readonly Polygon[]): Polygon | null =>
    pieces.reduce<Polygon | null>((a, b) => (a === null || polygonArea(b) > polygonArea(a) ? b : a), null);
  let outline = largest(polygonIntersection(panel.outline, inner, snap));
  if (outline === null) return failed("plate-outside", `the ${which} and the sides share no plan`);
  const holes: Polygon[] = [];
  for (const hole of panel.holes) {
    const within = hole.every((_, i) => i % 2 === 1 || pointInPolygon(inner, hole[i], hole[i + 1]));
    if (within) holes.push(hole);
    else {
      outline = largest(polygonDifference(outline, hole, snap, snap).pieces);
      if (outline === null) return failed("plate-outside", `a hole takes away the whole ${which}`);
    }
  }
  const region: Polygon = outline;
  const ribs = panel.ribs.flatMap((rib) => seatedRib(rib, region, holes));
  return done({ ...panel, outline, holes, ribs });
}

/** The rib between its first and last place inside the region, its height profile kept in place; none if it lies outside. */
export function seatedRib(rib: PanelRib, outline: Polygon, holes: readonly Polygon[]): PanelRib[] {
  const p = rib.path;
  let run = 0;
  let from = Number.POSITIVE_INFINITY;
  let to = 0;
  const runs = [0];
  for (let i = 0; i + 3 < p.length; i += 2) {
    const a = [p[i], p[i + 1]] as const;
    const b = [p[i + 2], p[i + 3]] as const;
    for (const [s, e] of clipSegment(outline, holes, a, b)) {
      from = Math.min(from, run + s);
      to = Math.max(to, run + e);
    }
    run += Math.hypot(b[0] - a[0], b[1] - a[1]);
    runs.push(run);
  }
  if (!(to > from)) return [];
  const tiny = 1e-9 * run;
  if (from < tiny && to > run - tiny) return [rib];
  const at = (s: number): readonly [number, number] => {
    let k = 0;
    while (k + 2 < runs.length && runs[k + 1] < s) k++;
    const f = (s - runs[k]) / (runs[k + 1] - runs[k]);
    return [p[2 * k] + f * (p[2 * k + 2] - p[2 * k]), p[2 * k + 1] + f * (p[2 * k + 3] - p[2 * k + 1])];
  };
  const path = [...at(from)];
  runs.forEach((s, k) => {
    if (s > from + tiny && s < to - tiny) path.push(p[2 * k], p[2 * k + 1]);
  });
  path.push(...at(to));
  // stations may now lie below 0 or above 1: heights are linear between stations, so the profile stays where it was
  const heights = rib.heights.map(([s, h]) => [(s * run - from) / (to - from), h] as const);
  return [{ ...rib, path: Float64Array.from(path), heights }];
}

/** Width of the strip of plate that the lining stiffens, from the side's mid-surface inwards. */
export function liningStrip(sides: SidesSpec, lining: LiningSpec): number {
  return sideThickness(sides) / 2 + lining.width;
}

/** Lines the plate's mesh follows besides ribs and patches: the lining's inner edge and the blocks' footprints. */
export function seatLines(
  spec: BodyShellSpec,
  which: "top" | "back",
  panel: Panel,
  size: number,
): Polyline[] {
  const lines: Polyline[] = [];
  const lining = which === "top" ? spec.sides?.topLining : spec.sides?.backLining;
  if (spec.sides && lining) {
    const strip = liningStrip(spec.sides, lining);
    // on meshes coarser than the strip the lining is shared out by area instead
    if (strip > 0.5 * size)
      lines.push(...insideChains(panel, insetPolygon(sideLine(spec.sides), strip), size));
  }
  for (const box of spec.blocks) {
    const [x, y] = box.centre;
    const [a, b] = [box.size[0] / 2, box.size[1] / 2];
    const plan = Float64Array.of(x - a, y - b, x + a, y - b, x + a, y + b, x - a, y + b);
    lines.push(...insideChains(panel, plan, size));
  }
  return lines;
}

/** A closed polygon's edge as far as it lies in the plate, in chains; scraps shorter than half the mesh size left out. */
function insideChains(panel: Panel, p: Polygon, size: number): Polyline[] {
  const n = p.length / 2;
  const chains: number[][] = [];
  let open: number[] | null = null;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const a = [p[2 * i], p[2 * i + 1]] as const;
    const b = [p[2 * j], p[2 * j + 1]] as const;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const inside = clipSegment(panel.outline, panel.holes, a, b);
    for (const [s, e] of inside) {
      const place = (t: number): [number, number] => [
        a[0] + ((b[0] - a[0]) * t) / length,
        a[1] + ((b[1] - a[1]) * t) / length,
      ];
      if (open === null || s > 1e-9 * length) {
        open = place(s);
        chains.push(open);
      }
      open.push(...place(e));
      if (e < length * (1 - 1e-9)) open = null;
    }
    if (inside.length === 0) open = null;
  }
  const [first, last] = [chains[0], chains.at(-1)];
  if (first && last && chains.length > 1 && open !== null && first[0] === p[0] && first[1] === p[1]) {
    // the walk began inside the plate: its first and last chain are one
    last.push(...first.slice(2));
    chains.shift();
  }
  return chains
    .filter((c) => {
      let length = 0;
      for (let i = 0; i + 3 < c.length; i += 2) length += Math.hypot(c[i + 2] - c[i], c[i + 3] - c[i + 1]);
      return length > 0.5 * size;
    })
    .map((c) => Float64Array.from(c));
}
