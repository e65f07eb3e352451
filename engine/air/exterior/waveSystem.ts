import { done, failed, type Kernels, type Outcome, placeOf, type WavePanels } from "#engine/numerics";
import type { ExteriorSurface } from "./exterior.ts";
import { loadPanels, panelRoom } from "./loadPanels.ts";
import { type NearPairs, nearPairs } from "./nearPairs.ts";
import { type PanelGeometry, panelGeometry } from "./panelGeometry.ts";
import { panelPoints } from "./panelPoints.ts";

/** All that does not change with frequency, with room to work in for `count` patterns. */
export interface WaveSystem {
  readonly geometry: PanelGeometry;
  /** x,y,z by point, 9 by panel. */
  readonly points: Float64Array;
  readonly near: NearPairs;
  readonly kernels: Kernels;
  readonly panels: WavePanels;
  readonly count: number;
  /** panels x count, row by row. */
  readonly patterns: Float64Array;
  /** nodes x nodes; real part, then imaginary part. */
  readonly matrix: Float64Array;
  /** nodes x panels; real part, then imaginary part. */
  readonly sources: Float64Array;
  /** nodes x count; real part, then imaginary part: pressure per unit acceleration and density. */
  readonly pressure: Float64Array;
  readonly pivot: Int32Array;
  readonly scratch: Float64Array;
}

/** Doubles that a wave system of so many panels, nodes and patterns needs. */
export function waveSystemRoom(panels: number, nodes: number, count: number): number {
  const matrices = 2 * nodes * (nodes + panels + count) + panels * count;
  return panelRoom(panels) + matrices + 18 * nodes + 8 * panels + 256;
}

/** patterns: P x panels, unit normal velocities. The kernels must have `waveSystemRoom` left. */
export function waveSystem(
  geometry: PanelGeometry,
  patterns: Float64Array,
  count: number,
  kernels: Kernels,
): WaveSystem {
  const points = panelPoints(geometry);
  const { panels: n, nodes } = geometry;
  const held = kernels.allocate(n * count);
  for (let p = 0; p < count; p++) for (let t = 0; t < n; t++) held[t * count + p] = patterns[p * n + t];
  return {
    geometry,
    points,
    near: nearPairs(geometry),
    kernels,
    panels: loadPanels(kernels, geometry, points),
    count,
    patterns: held,
    matrix: kernels.allocate(2 * nodes * nodes),
    sources: kernels.allocate(2 * nodes * n),
    pressure: kernels.allocate(2 * nodes * count),
    pivot: kernels.allocateIndices(nodes),
    scratch: kernels.allocate(Math.max(108 + 16 * nodes, 8 * n)),
  };
}

/**
 * Pressure on the surface per unit ACCELERATION of each pattern and unit density, into `pressure` (nodes x count, hats).
 * Burton and Miller's combination of the boundary integral equation and its normal derivative, both tested with hats:
 *   (1/2 - K) p + i eta N p = S v - i eta (1/2 + K') v,   <N p, q> = integral of (k2 n.n' p q - curl p . curl q) G
 * given: S v tested with hats (nodes x count, real) in place of the patterns' own.
 * k in 1/m, eta in m (0: the plain equation, which fails at the inner resonances of the body's shape with zero pressure).
 * Fails: 'singular'. Sources: BURTON-MILLER-1971; weak form of N: NEDELEC-1982 (both from memory, proven on spheres).
 */
export function solveWaves(s: WaveSystem, k: number, eta: number, given?: Float64Array): Outcome<null> {
  const { kernels, geometry: g, count } = s;
  const { nodes, panels } = g;
  s.matrix.fill(0);
  s.sources.fill(0);
  s.pressure.fill(0);
  const re = placeOf(s.matrix);
  const im = re + nodes * nodes;
  const bRe = placeOf(s.sources);
  const bIm = bRe + nodes * panels;
  const { points, normals, curls, areas, corners, stride } = s.panels;
  kernels.wavePairs.addWavePairs(
    k,
    eta,
    panels,
    stride,
    points,
    normals,
    curls,
    areas,
    corners,
    nodes,
    re,
    im,
    bRe,
    bIm,
    placeOf(s.scratch),
  );
  addNear(s, k, eta);
  addOwn(s, k, eta);
  const scratch = placeOf(s.scratch);
  const pRe = placeOf(s.pressure);
  const pIm = pRe + nodes * count;
  if (given !== undefined) s.pressure.set(given);
  // Real and imaginary rows stand below each other, so that one real product serves both.
  else
    kernels.complexLu.multiplyRows(
      2 * nodes,
      panels,
      count,
      bRe,
      panels,
      placeOf(s.patterns),
      count,
      pRe,
      count,
      scratch,
    );
  let largest = 0;
  for (let i = 0; i < 2 * nodes * nodes; i++) largest = Math.max(largest, Math.abs(s.matrix[i]));
  const pivot = placeOf(s.pivot);
  const column = kernels.complexLu.factorComplex(re, im, nodes, nodes * 2e-16 * largest, pivot, scratch);
  if (column > 0) return failed("singular", `the outer air's equations have no pivot in column ${column}`);
  kernels.complexLu.solveComplex(re, im, nodes, pivot, pRe, pIm, count, scratch);
  return done(null);
}

const quarter = 1 / (4 * Math.PI);

/** The static share that the plain rule misses between near panels; it does not depend on k. */
function addNear({ near, geometry: g, matrix, sources }: WaveSystem, k: number, eta: number): void {
  const { nodes, panels, corner, normal, curl } = g;
  const im = nodes * nodes;
  const bIm = nodes * panels;
  for (let p = 0; p < near.count; p++) {
    const a = near.panel[2 * p];
    const b = near.panel[2 * p + 1];
    const value = near.missing.subarray(27 * p, 27 * p + 27);
    let total = 0;
    for (let e = 0; e < 9; e++) total += value[e];
    const facing =
      normal[3 * a] * normal[3 * b] +
      normal[3 * a + 1] * normal[3 * b + 1] +
      normal[3 * a + 2] * normal[3 * b + 2];
    for (let m = 0; m < 3; m++) {
      for (let n = 0; n < 3; n++) {
        const e = 3 * m + n;
        const row = corner[3 * a + m];
        const column = corner[3 * b + n];
        const there = row * nodes + column;
        const back = column * nodes + row;
        const single = quarter * value[e];
        const onB = quarter * value[9 + e];
        const onA = quarter * value[18 + e];
        sources[row * panels + b] += single;
        if (a !== b) sources[column * panels + a] += single;
        matrix[there] -= onB;
        matrix[back] -= onA;
        if (eta === 0) continue;
        sources[bIm + row * panels + b] -= eta * onA;
        sources[bIm + column * panels + a] -= eta * onB;
        let dot = 0;
        for (let d = 0; d < 3; d++) dot += curl[9 * a + 3 * m + d] * curl[9 * b + 3 * n + d];
        const both = eta * (k * k * facing * single - quarter * dot * total);
        matrix[im + there] += both;
        if (a !== b) matrix[im + back] += both;
      }
    }
  }
}

/** The halves, and on each panel itself the dynamic share (exp(-ikr) - 1)/r of the kernel; K and K' vanish on a plane. */
function addOwn({ geometry: g, points, matrix, sources }: WaveSystem, k: number, eta: number): void {
  const { nodes, panels, corner, area, curl } = g;
  const im = nodes * nodes;
  const bIm = nodes * panels;
  const rest = new Float64Array(18);
  for (let t = 0; t < panels; t++) {
    const weight = (quarter * area[t] * area[t]) / 9;
    rest.fill(0);
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        const r = Math.hypot(
          points[9 * t + 3 * i] - points[9 * t + 3 * j],
          points[9 * t + 3 * i + 1] - points[9 * t + 3 * j + 1],
          points[9 * t + 3 * i + 2] - points[9 * t + 3 * j + 2],
        );
        // 1/r of different points was taken off by `nearPairs` and is put back whole here.
        const re = i === j ? 0 : weight * (Math.cos(k * r) / r);
        const imaginary = i === j ? -weight * k : (-weight * Math.sin(k * r)) / r;
        for (let m = 0; m < 3; m++) {
          for (let n = 0; n < 3; n++) {
            const w = (1 / 6 + (i === m ? 0.5 : 0)) * (1 / 6 + (j === n ? 0.5 : 0));
            rest[3 * m + n] += w * re;
            rest[9 + 3 * m + n] += w * imaginary;
          }
        }
      }
    }
    let total = 0;
    let totalIm = 0;
    for (let e = 0; e < 9; e++) {
      total += rest[e];
      totalIm += rest[9 + e];
    }
    for (let m = 0; m < 3; m++) {
      const row = corner[3 * t + m];
      sources[bIm + row * panels + t] -= (eta * area[t]) / 6;
      for (let n = 0; n < 3; n++) {
        const e = 3 * m + n;
        const there = row * nodes + corner[3 * t + n];
        matrix[there] += (area[t] * (m === n ? 2 : 1)) / 24;
        sources[row * panels + t] += rest[e];
        sources[bIm + row * panels + t] += rest[9 + e];
        if (eta === 0) continue;
        let dot = 0;
        for (let d = 0; d < 3; d++) dot += curl[9 * t + 3 * m + d] * curl[9 * t + 3 * n + d];
        matrix[there] -= eta * (k * k * rest[9 + e] - dot * totalIm);
        matrix[im + there] += eta * (k * k * rest[e] - dot * total);
      }
    }
  }
}

/** A wave system in a kernel memory of its own. patterns: P x panels. */
export function openWaveSystem(
  surface: ExteriorSurface,
  patterns: Float64Array,
  count: number,
  source: (doubles: number) => Kernels,
  more = 0,
): WaveSystem {
  const g = panelGeometry(surface);
  return waveSystem(g, patterns, count, source(waveSystemRoom(g.panels, g.nodes, count) + more));
}
