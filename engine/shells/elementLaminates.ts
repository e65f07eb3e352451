import { withFootprint } from "./footprint.ts";
import { blended, type Laminate, laminate } from "./laminate.ts";
import type { Panel, PanelPatch, PanelRib } from "./panel.ts";
import { plateLayers } from "./plateLayers.ts";
import { misses, type PreparedPolygon, preparedOverlap, preparedPolygon } from "./preparedPolygon.ts";
import { ribHeight } from "./ribSection.ts";
import type { ShellMesh } from "./shellMesh.ts";
import { thicknessAt } from "./thicknessAt.ts";
import { workingPolygon } from "./workingPolygon.ts";

/** Overlaps below this share of a triangle are rounding: the mesh follows patch edges. */
const negligible = 1e-6;

/** The laminate of every triangle: plate, patches by area share, finish, and the ribs' footprints across themselves. */
export function elementLaminates(panel: Panel, mesh: ShellMesh): Laminate[] {
  const stacks = new Map<string, Laminate>();
  const bare = new Map<number, Laminate>();
  const stack = (thickness: number, patches: readonly number[]): Laminate => {
    if (patches.length === 0) {
      const known = bare.get(thickness);
      if (known) return known;
      const made = plateStack(panel, thickness, []);
      bare.set(thickness, made);
      return made;
    }
    const key = `${thickness}|${patches.join()}`;
    const known = stacks.get(key);
    if (known) return known;
    const made = plateStack(
      panel,
      thickness,
      patches.map((k) => panel.patches[k]),
    );
    stacks.set(key, made);
    return made;
  };
  const strips = panel.ribs.flatMap(ribStrips);
  const glued = panel.patches.map((p) => preparedPolygon(p.polygon));
  const working = panel.patches.map((p) => preparedPolygon(workingPolygon(p)));
  const { nodes } = mesh.plan;
  const corners = new Float64Array(6);
  const covered = (polygons: readonly PreparedPolygon[], area: number, thickness: number): Laminate => {
    let parts: { patches: number[]; fraction: number }[] = [{ patches: [], fraction: 1 }];
    for (let k = 0; k < polygons.length; k++) {
      if (misses(polygons[k], corners)) continue;
      const share = preparedOverlap(polygons[k], corners)[0] / area;
      if (share < negligible) continue;
      const next: typeof parts = [];
      for (const { patches, fraction } of parts) {
        const whole = share > 1 - negligible;
        if (!whole) next.push({ patches, fraction: fraction * (1 - share) });
        next.push({ patches: [...patches, k], fraction: whole ? fraction : fraction * share });
      }
      parts = next;
    }
    return parts.length === 1
      ? stack(thickness, parts[0].patches)
      : blended(parts.map((p) => ({ laminate: stack(thickness, p.patches), fraction: p.fraction })));
  };
  const laminates: Laminate[] = [];
  for (let e = 0; e < mesh.triangles.length / 3; e++) {
    for (let k = 0; k < 3; k++) {
      const node = mesh.triangles[3 * e + k];
      corners[2 * k] = nodes[2 * node];
      corners[2 * k + 1] = nodes[2 * node + 1];
    }
    const area =
      ((corners[2] - corners[0]) * (corners[5] - corners[1]) -
        (corners[4] - corners[0]) * (corners[3] - corners[1])) /
      2;
    const x = (corners[0] + corners[2] + corners[4]) / 3;
    const y = (corners[1] + corners[3] + corners[5]) / 3;
    const thickness = thicknessAt(panel.thickness, x, y);
    let l: Laminate;
    if (allMiss(glued, corners)) l = stack(thickness, []);
    else
      l = {
        ...covered(working, area, thickness),
        inertia: covered(glued, area, thickness).inertia,
      };
    for (const strip of strips) l = underStrip(l, strip, corners, area, thickness);
    laminates.push(l);
  }
  return laminates;
}

function allMiss(polygons: readonly PreparedPolygon[], corners: Float64Array): boolean {
  for (let k = 0; k < polygons.length; k++) if (!misses(polygons[k], corners)) return false;
  return true;
}

/**
 * Depth of a rib that takes part in bending across itself, in rib widths. Stress across the rib must vanish at its two
 * flanks; a half sine over the width w fades with the depth z as exp(-(pi z / w) sqrt(ET / GTT)) (plane elasticity, stiff
 * along z), so its depth is w / (pi sqrt(ET / GTT)), and ET / GTT is about 10 for softwoods (Wood Handbook, tables 5-1).
 * Checked on solids: without it the modes of panel case c08 are 0.5 to 1 % lower, all of them on the low side.
 */
const footprintDepth = 1 / (Math.PI * Math.sqrt(10));

function plateStack(panel: Panel, thickness: number, patches: readonly PanelPatch[]): Laminate {
  return laminate(plateLayers(panel, thickness, patches));
}

/** One straight piece of a rib's footprint. */
interface Strip {
  readonly rib: PanelRib;
  readonly area: PreparedPolygon;
  readonly angle: number;
  readonly x: number;
  readonly y: number;
  readonly ux: number;
  readonly uy: number;
  /** Fraction of the rib's plan length at the strip's start, and the whole length in m. */
  readonly start: number;
  readonly length: number;
}

/** One rectangle of the rib's width for each straight piece of its path. */
export function ribStrips(rib: PanelRib): Strip[] {
  const p = rib.path;
  const lengths = Array.from({ length: p.length / 2 - 1 }, (_, i) =>
    Math.hypot(p[2 * i + 2] - p[2 * i], p[2 * i + 3] - p[2 * i + 1]),
  );
  const total = lengths.reduce((a, b) => a + b, 0);
  let run = 0;
  return lengths.map((piece, i) => {
    const [x, y, x1, y1] = [p[2 * i], p[2 * i + 1], p[2 * i + 2], p[2 * i + 3]];
    const ux = (x1 - x) / piece;
    const uy = (y1 - y) / piece;
    const ox = (-uy * rib.width) / 2;
    const oy = (ux * rib.width) / 2;
    const start = run / total;
    run += piece;
    return {
      rib,
      area: preparedPolygon(
        Float64Array.of(x - ox, y - oy, x1 - ox, y1 - oy, x1 + ox, y1 + oy, x + ox, y + oy),
      ),
      angle: Math.atan2(uy, ux),
      x,
      y,
      ux,
      uy,
      start,
      length: total,
    };
  });
}

/** A triangle's laminate with the part of a rib's footprint that covers it; `l` itself where they miss each other. */
export function underStrip(
  l: Laminate,
  strip: Strip,
  corners: Float64Array,
  area: number,
  plateThickness: number,
): Laminate {
  if (misses(strip.area, corners)) return l;
  const [cut, mx, my] = preparedOverlap(strip.area, corners);
  const share = Math.min(cut / area, 1);
  if (share < negligible) return l;
  const { rib } = strip;
  const s = strip.start + ((mx / cut - strip.x) * strip.ux + (my / cut - strip.y) * strip.uy) / strip.length;
  return withFootprint(l, share, {
    angle: strip.angle,
    depth: Math.min(ribHeight(rib, s), footprintDepth * rib.width),
    ET: rib.material.ET ?? rib.material.EL / 20,
    lossT: rib.material.loss?.T ?? 0,
    side: rib.side,
    plateThickness,
    growth: rib.material.growth?.across ?? 0,
  });
}
