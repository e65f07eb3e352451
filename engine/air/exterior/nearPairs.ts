import { triangleRule } from "#engine/numerics";
import type { PanelEdges } from "./panelEdges.ts";
import type { PanelGeometry } from "./panelGeometry.ts";
import { staticTriangle, type TriangleFrames, triangleFrames } from "./staticTriangle.ts";

/**
 * What the plain rule, three middles of edges a panel, misses of the static kernels between near panels. Pair by pair (a <= b), 27 numbers,
 * each over hats m of a (slow) and n of b: 1/r; then (x - y).n_b/r^3 with x on a, y on b; then the same seen from b,
 * (y - x).n_a/r^3. Where two middles coincide the plain rule counts nothing.
 */
export interface NearPairs {
  readonly count: number;
  /** Panels a, b by pair. */
  readonly panel: Uint32Array;
  readonly missing: Float64Array;
}

/** Pairs count as near up to a distance of centres of `reach` times the sum of their longest edges. */
const reach = 0.8;

/** Galerkin integrals of the static kernels: inner in closed form, outer by 12 points (6 where the panels do not touch). */
export function nearPairs(g: PanelGeometry, edges: PanelEdges): NearPairs {
  const found: number[] = [];
  for (let a = 0; a < g.panels; a++) {
    for (let b = a; b < g.panels; b++) {
      const dx = g.centre[3 * a] - g.centre[3 * b];
      const dy = g.centre[3 * a + 1] - g.centre[3 * b + 1];
      const dz = g.centre[3 * a + 2] - g.centre[3 * b + 2];
      const far = reach * (g.size[a] + g.size[b]);
      if (dx * dx + dy * dy + dz * dz < far * far) found.push(a, b);
    }
  }
  const count = found.length / 2;
  const panel = Uint32Array.from(found);
  const missing = new Float64Array(27 * count);
  const frames = triangleFrames(g);
  const work: OuterWork = {
    out: new Float64Array(18),
    single: new Float64Array(3),
    double: new Float64Array(3),
  };
  const exact = work.out;
  for (let p = 0; p < count; p++) {
    const a = panel[2 * p];
    const b = panel[2 * p + 1];
    const o = 27 * p;
    outer(g, frames, a, b, work);
    for (let i = 0; i < 18; i++) missing[o + i] = exact[i];
    if (a !== b) {
      outer(g, frames, b, a, work); // rows of b: transposed
      for (let m = 0; m < 3; m++) {
        for (let n = 0; n < 3; n++) {
          missing[o + 3 * m + n] = 0.5 * (missing[o + 3 * m + n] + exact[3 * n + m]);
          missing[o + 18 + 3 * m + n] = exact[9 + 3 * n + m];
        }
      }
    }
    takePlain(g, edges, a, b, missing, o);
  }
  return { count, panel, missing };
}

const fine = triangleRule(6);
const medium = triangleRule(4);

interface OuterWork {
  readonly out: Float64Array;
  readonly single: Float64Array;
  readonly double: Float64Array;
}

/** Outer integral over panel a, inner over panel b in closed form: 9 moments of 1/r and 9 of (x - y).n_b/r^3. */
function outer(g: PanelGeometry, frames: TriangleFrames, a: number, b: number, work: OuterWork): void {
  const { points, weights } = a === b || touch(g, a, b) ? fine : medium;
  const [p, q, r] = [0, 1, 2].map((m) => 3 * g.corner[3 * a + m]);
  const { place } = g;
  const { single, double, out } = work;
  out.fill(0);
  for (let i = 0; i < weights.length; i++) {
    const u = points[3 * i];
    const v = points[3 * i + 1];
    const w = points[3 * i + 2];
    const x = u * place[p] + v * place[q] + w * place[r];
    const y = u * place[p + 1] + v * place[q + 1] + w * place[r + 1];
    const z = u * place[p + 2] + v * place[q + 2] + w * place[r + 2];
    staticTriangle(frames, b, x, y, z, single, double);
    for (let m = 0; m < 3; m++) {
      const weight = weights[i] * g.area[a] * points[3 * i + m];
      for (let n = 0; n < 3; n++) {
        out[3 * m + n] += weight * single[n];
        out[9 + 3 * m + n] += weight * double[n];
      }
    }
  }
  if (a === b) out.fill(0, 9); // on its own plane: only rounding
}

function touch(g: PanelGeometry, a: number, b: number): boolean {
  for (let m = 0; m < 3; m++)
    for (let n = 0; n < 3; n++) if (g.corner[3 * a + m] === g.corner[3 * b + n]) return true;
  return false;
}

/** Takes off what the middles of the edges already count: hats of an edge's two ends are a half there. */
function takePlain(
  g: PanelGeometry,
  edges: PanelEdges,
  a: number,
  b: number,
  missing: Float64Array,
  start: number,
): void {
  const { middle, ofPanel } = edges;
  const weight = (g.area[a] * g.area[b]) / 36;
  for (let i = 0; i < 3; i++) {
    const e = ofPanel[3 * a + i];
    for (let j = 0; j < 3; j++) {
      const f = ofPanel[3 * b + j];
      if (e === f) continue;
      const dx = middle[3 * e] - middle[3 * f];
      const dy = middle[3 * e + 1] - middle[3 * f + 1];
      const dz = middle[3 * e + 2] - middle[3 * f + 2];
      const r = Math.sqrt(dx * dx + dy * dy + dz * dz);
      const w = weight / r;
      const cubed = w / (r * r);
      const to = cubed * (dx * g.normal[3 * b] + dy * g.normal[3 * b + 1] + dz * g.normal[3 * b + 2]);
      const from = cubed * (dx * g.normal[3 * a] + dy * g.normal[3 * a + 1] + dz * g.normal[3 * a + 2]);
      for (let p = 0; p < 2; p++) {
        const row = 3 * ((i + p) % 3);
        for (let q = 0; q < 2; q++) {
          const at = start + row + ((j + q) % 3);
          missing[at] -= w;
          if (a === b) continue;
          missing[9 + at] -= to;
          missing[18 + at] += from;
        }
      }
    }
  }
}
