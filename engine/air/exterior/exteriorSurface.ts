import { done, failed, type Outcome } from "#engine/numerics";
import { type CavityPlan, cavityPlan } from "../cavity/cavityPlan.ts";
import { backHeight, topHeight } from "../cavity/cavitySpec.ts";
import type { ExteriorSpec, ExteriorSurface } from "./exterior.ts";
import { surfaceFaults } from "./surfaceFaults.ts";

/** The plan's mesh is made anew with larger triangles until the surface has at most so many panels; at most so often. */
const mostAttempts = 12;

/**
 * The body's outside as a closed coarse surface of at most `maxPanels` triangles: one mesh of the plan, finer at the hole,
 * laid on the top and on the back, and rings of panels for the sides between them.
 * Fails: 'no-depth' where the back lies above the top, 'too-few-panels', 'not-closed', and the reasons of the plan's mesh.
 */
export function exteriorSurface(spec: ExteriorSpec, maxPanels: number): Outcome<ExteriorSurface> {
  const { outline, hole } = spec;
  let perimeter = 0;
  let area = 0;
  let depth = 0;
  const n = outline.length / 2;
  for (let i = 0; i < n; i++) {
    const [x, y] = [outline[2 * i], outline[2 * i + 1]];
    const [u, v] = [outline[(2 * i + 2) % (2 * n)], outline[(2 * i + 3) % (2 * n)]];
    perimeter += Math.hypot(u - x, v - y);
    area += (x * v - u * y) / 2;
    const here = topHeight(spec.top, x, y) - backHeight(spec.back, x, y);
    if (!(here > 0)) return failed("no-depth", `the back lies above the top at (${x}, ${y}) m`);
    depth += here / n;
  }
  let size = Math.sqrt((2 * area + perimeter * depth) / (0.433 * maxPanels));
  for (let attempt = 0; attempt < mostAttempts; attempt++) {
    const plan = cavityPlan({
      outline,
      hole: hole === null ? null : { polygon: hole.polygon, wall: 0, scoop: { height: hole.scoop, wall: 0 } },
      size,
    });
    if (!plan.ok) return plan;
    const surface = raise(plan.value, spec, depth, size);
    const panels = surface.triangles.length / 3;
    if (panels <= maxPanels) {
      const faults = surfaceFaults(surface);
      return faults.length > 0 ? failed("not-closed", faults.join("; ")) : done(surface, plan.warnings);
    }
    size *= Math.max(1.03, Math.sqrt(panels / maxPanels));
  }
  return failed("too-few-panels", `no mesh of this outline keeps within ${maxPanels} panels`);
}

function raise(plan: CavityPlan, spec: ExteriorSpec, depth: number, size: number): ExteriorSurface {
  const corners = 1 + plan.triangles.reduce((most, node, i) => (i % 6 < 3 ? Math.max(most, node) : most), 0);
  const ring = plan.rim.filter((_, i) => i % 3 === 0);
  const scoop = spec.hole !== null && plan.open.some((o) => o === 1) ? spec.hole.scoop : 0;
  const fractions = levels(depth, size, scoop);
  const nodes: number[] = [];
  for (const height of [topHeight.bind(null, spec.top), backHeight.bind(null, spec.back)]) {
    for (let p = 0; p < corners; p++) {
      const [x, y] = [plan.nodes[2 * p], plan.nodes[2 * p + 1]];
      nodes.push(x, y, height(x, y));
    }
  }
  // Rings between: node of ring r (0 the top's edge, last the back's) at place i of the rim.
  const inner = nodes.length / 3;
  const last = fractions.length - 1;
  for (let r = 1; r < last; r++) {
    for (const p of ring) {
      const high = nodes[3 * p + 2];
      const low = nodes[3 * (corners + p) + 2];
      nodes.push(nodes[3 * p], nodes[3 * p + 1], high + fractions[r] * (low - high));
    }
  }
  const at = (r: number, i: number): number => {
    const place = i % ring.length;
    if (r === 0) return ring[place];
    return r === last ? corners + ring[place] : inner + (r - 1) * ring.length + place;
  };
  const triangles: number[] = [];
  const part: number[] = [];
  for (let t = 0; t < plan.inHole.length; t++) {
    const [a, b, c] = plan.triangles.subarray(6 * t, 6 * t + 3);
    triangles.push(a, b, c, corners + a, corners + c, corners + b);
    part.push(plan.inHole[t] === 1 ? 3 : 0, 1);
  }
  for (let i = 0; i < ring.length; i++) {
    for (let r = 0; r < last; r++) {
      const [p, q, u, v] = [at(r, i), at(r, i + 1), at(r + 1, i + 1), at(r + 1, i)];
      // Seen from outside, going round anticlockwise runs to the right:  p---q  diagonals change from panel to panel.
      //                                                                  v---u
      if ((i + r) % 2 === 0) triangles.push(p, v, u, p, u, q);
      else triangles.push(p, v, q, v, u, q);
      const which = r === 0 && scoop > 0 && plan.open[i] === 1 ? 3 : 2;
      part.push(which, which);
    }
  }
  return {
    nodes: Float64Array.from(nodes),
    triangles: Uint32Array.from(triangles),
    part: Uint8Array.from(part),
  };
}

/** Heights of the rings of the sides as fractions of the depth, from the top down; the scoop makes a ring of its own. */
function levels(depth: number, size: number, scoop: number): number[] {
  const first = scoop > 0 ? Math.min(0.8, scoop / depth) : 0;
  const rings = Math.max(1, Math.round(((1 - first) * depth) / size));
  const below = Array.from({ length: rings + 1 }, (_, i) => first + ((1 - first) * i) / rings);
  return first > 0 ? [0, ...below] : below;
}
