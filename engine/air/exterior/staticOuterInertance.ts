import { type Context, done, failed, type Outcome, placeOf, typescriptKernels } from "#engine/numerics";
import type { ExteriorSurface } from "./exterior.ts";
import { type PanelGeometry, panelGeometry } from "./panelGeometry.ts";
import { panelPoints } from "./panelPoints.ts";
import { panelsUnder } from "./panelsUnder.ts";
import { staticTriangle, triangleFrames } from "./staticTriangle.ts";
import { surfaceParts } from "./surfaceParts.ts";
import { factorWaves, waveSystem, waveSystemRoom } from "./waveSystem.ts";

/** Inertances between panels, F x F each, kg/m4, symmetric: what an endless flange gives, and what the body's end adds. */
export interface OuterInertance {
  readonly flanged: Float64Array;
  /** Mostly negative: round a body there is more room than over half a space. The sum of both is the body's own. */
  readonly body: Float64Array;
}

/**
 * Inertance of the air outside between panels of an opening in the body, at low frequency: mean pressure over panel a per
 * unit volume acceleration out of panel b, evenly spread over it. opening: 12 by panel, its 4 corners x,y,z, plane,
 * anticlockwise from outside (m); the panels need not follow the surface's triangles, only lie within a few mm of it.
 *
 * On the surface p = 2 S v + 2 K p: the first term, the panels in an endless flange, is in closed form; the second is what
 * the body's end brings, smooth over the opening, with p on the coarse surface from (1/2 - K) p = S v. Triangles in the
 * panel's own plane give nothing to K.
 * Fails: 'cancelled', 'singular', 'opening' where the surface has no aperture.
 */
export function staticOuterInertance(
  surface: ExteriorSurface,
  opening: Float64Array,
  density: number,
  ctx: Context,
): Outcome<OuterInertance> {
  if (ctx.cancelled()) return failed("cancelled", "the outer air was no longer wanted");
  if (!surface.part.includes(3)) return failed("opening", "the outer surface has no aperture");
  const g = panelGeometry(surface);
  const fine = panelGeometry(asTriangles(opening));
  const count = opening.length / 12;
  const kernels = (ctx.kernels ?? typescriptKernels)(waveSystemRoom(g.panels, g.nodes) + 2 * g.nodes * count);
  const system = waveSystem(surfaceParts(surface), kernels);
  const { single, double } = potentials(surface, g, fine, count);
  const factored = factorWaves(system, 0, 0);
  if (!factored.ok) return factored;
  const pressure = kernels.allocate(2 * g.nodes * count);
  pressure.set(single);
  const [at, matrix] = [placeOf(pressure), placeOf(system.matrix)];
  kernels.complexLu.solveComplex(
    matrix,
    matrix + g.nodes * g.nodes,
    g.nodes,
    placeOf(system.pivot),
    at,
    at + g.nodes * count,
    count,
    placeOf(system.scratch),
  );
  const body = new Float64Array(count * count);
  for (let n = 0; n < g.nodes; n++) {
    for (let a = 0; a < count; a++) {
      const w = 2 * double[n * count + a];
      for (let b = 0; b < count; b++) body[a * count + b] += w * pressure[n * count + b];
    }
  }
  return done({
    flanged: symmetric(baffled(fine, count), count, density),
    body: symmetric(body, count, density),
  });
}

/** A triangle counts as in plane with a panel up to this cosine of the angle and this height of the panel over its edge. */
const samePlane = 0.9;
const flat = 0.05;

/** By node of the surface and panel of the opening: mean over the panel of the potentials of the node's hat. */
function potentials(
  surface: ExteriorSurface,
  g: PanelGeometry,
  fine: PanelGeometry,
  count: number,
): { readonly single: Float64Array; readonly double: Float64Array } {
  const frames = triangleFrames(g);
  const under = panelsUnder(surface, fine.centre, 3);
  const single = new Float64Array(g.nodes * count);
  const double = new Float64Array(g.nodes * count);
  const one = new Float64Array(3);
  const two = new Float64Array(3);
  for (let tri = 0; tri < 2 * count; tri++) {
    if (fine.area[tri] === 0) continue; // four corners of which two coincide
    const f = tri >> 1;
    const weight = fine.area[tri] / (fine.area[2 * f] + fine.area[2 * f + 1]) / (4 * Math.PI);
    const [x, y, z] = onPlane(g, under[tri], fine.centre.subarray(3 * tri, 3 * tri + 3));
    for (let t = 0; t < g.panels; t++) {
      staticTriangle(frames, t, x, y, z, one, two);
      const flush =
        facing(g, t, fine, tri) > samePlane && Math.abs(heightOver(g, t, x, y, z)) < flat * g.size[t];
      for (let m = 0; m < 3; m++) {
        const at = g.corner[3 * t + m] * count + f;
        single[at] += weight * one[m];
        if (!flush) double[at] += weight * two[m];
      }
    }
  }
  return { single, double };
}

function facing(g: PanelGeometry, t: number, h: PanelGeometry, u: number): number {
  let dot = 0;
  for (let d = 0; d < 3; d++) dot += g.normal[3 * t + d] * h.normal[3 * u + d];
  return dot;
}

function heightOver(g: PanelGeometry, t: number, x: number, y: number, z: number): number {
  const o = 3 * t;
  const across = (x - g.centre[o]) * g.normal[o] + (y - g.centre[o + 1]) * g.normal[o + 1];
  return across + (z - g.centre[o + 2]) * g.normal[o + 2];
}

/** A point moved square onto the plane of panel t. */
function onPlane(g: PanelGeometry, t: number, [x, y, z]: Float64Array): number[] {
  const off = heightOver(g, t, x, y, z);
  return [x, y, z].map((v, d) => v - off * g.normal[3 * t + d]);
}

function symmetric(a: Float64Array, n: number, factor: number): Float64Array {
  return a.map((v, e) => 0.5 * factor * (v + a[(e % n) * n + Math.floor(e / n)]));
}

function asTriangles(opening: Float64Array): ExteriorSurface {
  const count = opening.length / 12;
  const triangles = new Uint32Array(6 * count);
  for (let f = 0; f < count; f++) {
    const [p, q, r, s] = [4 * f, 4 * f + 1, 4 * f + 2, 4 * f + 3];
    triangles.set([p, q, r, p, r, s], 6 * f);
  }
  return { nodes: opening, triangles, part: new Uint8Array(2 * count) };
}

/** Twice the mean over panel a of the potential of panel b's even sources of unit sum: 1/(2 pi r), F x F, 1/m. */
function baffled(fine: PanelGeometry, count: number): Float64Array {
  const frames = triangleFrames(fine);
  const points = panelPoints(fine);
  const out = new Float64Array(count * count);
  const one = new Float64Array(3);
  const two = new Float64Array(3);
  for (let a = 0; a < count; a++) {
    const wholeA = fine.area[2 * a] + fine.area[2 * a + 1];
    for (let b = 0; b < count; b++) {
      const wholeB = fine.area[2 * b] + fine.area[2 * b + 1];
      let sum = 0;
      for (let i = 0; i < 6; i++) {
        const weight = fine.area[2 * a + Math.floor(i / 3)] / 3;
        const p = 3 * (6 * a + i);
        for (const t of [2 * b, 2 * b + 1]) {
          if (fine.area[t] === 0 || weight === 0) continue;
          staticTriangle(frames, t, points[p], points[p + 1], points[p + 2], one, two);
          sum += weight * (one[0] + one[1] + one[2]);
        }
      }
      out[a * count + b] = sum / (wholeA * wholeB) / (2 * Math.PI);
    }
  }
  return out;
}
