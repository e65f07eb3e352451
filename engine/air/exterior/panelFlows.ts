import type { ExteriorPart, ExteriorSurface } from "./exterior.ts";
import { panelGeometry } from "./panelGeometry.ts";
import { panelsUnder } from "./panelsUnder.ts";

/** A fine surface that moves: triangles anticlockwise seen from outside, each part of it over the same part of the panels. */
export interface MovingSurface {
  /** x,y,z by node, m. */
  readonly nodes: Float64Array;
  readonly triangles: Uint32Array;
  /** By triangle: 0 top, 1 back, 2 side. */
  readonly part: Uint8Array;
}

/**
 * Normal velocity of each panel (count x panels, m/s) under motions of a fine surface (count x nodes x 3: ux uy uz): the
 * flow through every fine triangle goes to the panel of its own part that its centroid lies over, so the volume flow of
 * every part is kept exactly. Panels of the aperture stay at rest: see `apertureFlows`.
 */
export function panelFlows(
  surface: ExteriorSurface,
  moving: MovingSurface,
  motions: Float64Array,
): Float64Array {
  const { nodes, triangles } = moving;
  const panels = surface.triangles.length / 3;
  const fine = triangles.length / 3;
  const count = motions.length / nodes.length;
  const { under, share } = flowShares(surface, moving);
  const out = new Float64Array(count * panels);
  for (let i = 0; i < count; i++) {
    const from = i * nodes.length;
    const to = i * panels;
    for (let t = 0; t < fine; t++) {
      const a = from + 3 * triangles[3 * t];
      const b = from + 3 * triangles[3 * t + 1];
      const c = from + 3 * triangles[3 * t + 2];
      out[to + under[t]] +=
        share[3 * t] * (motions[a] + motions[b] + motions[c]) +
        share[3 * t + 1] * (motions[a + 1] + motions[b + 1] + motions[c + 1]) +
        share[3 * t + 2] * (motions[a + 2] + motions[b + 2] + motions[c + 2]);
    }
  }
  return out;
}

/** Panel under each fine triangle, and a third of the triangle's area vector over the panel's area. */
function flowShares(
  surface: ExteriorSurface,
  { nodes, triangles, part }: MovingSurface,
): { readonly under: Uint32Array; readonly share: Float64Array } {
  const fine = triangles.length / 3;
  const { area } = panelGeometry(surface);
  const under = new Uint32Array(fine);
  const share = new Float64Array(3 * fine);
  const centroid = (t: number, d: number): number =>
    (nodes[3 * triangles[3 * t] + d] +
      nodes[3 * triangles[3 * t + 1] + d] +
      nodes[3 * triangles[3 * t + 2] + d]) /
    3;
  for (const which of [0, 1, 2] satisfies ExteriorPart[]) {
    const own: number[] = [];
    for (let t = 0; t < fine; t++) if (part[t] === which) own.push(t);
    const points = Float64Array.from({ length: 3 * own.length }, (_, i) =>
      centroid(own[Math.floor(i / 3)], i % 3),
    );
    const found = panelsUnder(surface, points, which as ExteriorPart);
    own.forEach((t, i) => {
      under[t] = found[i];
    });
  }
  for (let t = 0; t < fine; t++) {
    const [a, b, c] = [0, 1, 2].map((m) => 3 * triangles[3 * t + m]);
    for (let d = 0; d < 3; d++) {
      const e = (d + 1) % 3;
      const f = (d + 2) % 3;
      const twice =
        (nodes[b + e] - nodes[a + e]) * (nodes[c + f] - nodes[a + f]) -
        (nodes[b + f] - nodes[a + f]) * (nodes[c + e] - nodes[a + e]);
      share[3 * t + d] = twice / (6 * area[under[t]]);
    }
  }
  return { under, share };
}

/**
 * Normal velocity of each panel (count x panels) for flows through pieces of the hole: centroids x,y,z by piece, flow
 * count x pieces (m3/s out of the body); each piece's flow goes to the panel of the aperture it lies over.
 */
export function apertureFlows(
  surface: ExteriorSurface,
  centroids: Float64Array,
  flow: Float64Array,
): Float64Array {
  const panels = surface.triangles.length / 3;
  const pieces = centroids.length / 3;
  const { area } = panelGeometry(surface);
  const under = panelsUnder(surface, centroids, 3);
  const count = pieces === 0 ? 0 : flow.length / pieces;
  const out = new Float64Array(count * panels);
  for (let i = 0; i < count; i++)
    for (let p = 0; p < pieces; p++) out[i * panels + under[p]] += flow[i * pieces + p] / area[under[p]];
  return out;
}
