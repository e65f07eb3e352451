import { done, failed, type Kernels, type Outcome, placeOf, type WaveSurface } from "#engine/numerics";
import { loadSurface, surfaceRoom } from "./loadSurface.ts";
import { type NearPairs, nearPairs } from "./nearPairs.ts";
import { type PanelEdges, panelEdges } from "./panelEdges.ts";
import type { PanelGeometry } from "./panelGeometry.ts";

/** All that does not change with frequency, with room to work in. */
export interface WaveSystem {
  readonly geometry: PanelGeometry;
  readonly edges: PanelEdges;
  readonly near: NearPairs;
  readonly kernels: Kernels;
  readonly loaded: WaveSurface;
  /** nodes x nodes; real part, then imaginary part; factors once factored. */
  readonly matrix: Float64Array;
  /** nodes x panels; real part, then imaginary part. */
  readonly sources: Float64Array;
  /** panels x panels complex numbers: the plain rule's G between panels. */
  readonly pairs: Float64Array;
  readonly pivot: Int32Array;
  readonly scratch: Float64Array;
}

/** Room for the work of all the kernels used here. */
function waveScratch(panels: number, nodes: number): number {
  return 4 * nodes * (nodes + panels) + 8 * nodes + 8 * panels;
}

/** Doubles that a wave system of so many panels and nodes needs. */
export function waveSystemRoom(panels: number, nodes: number): number {
  const matrices = 2 * nodes * (nodes + panels) + 2 * panels * panels;
  return surfaceRoom(panels) + matrices + waveScratch(panels, nodes) + nodes + 64;
}

/** The kernels must have `waveSystemRoom` left. */
export function waveSystem(geometry: PanelGeometry, kernels: Kernels): WaveSystem {
  const edges = panelEdges(geometry);
  const { panels: n, nodes } = geometry;
  return {
    geometry,
    edges,
    near: nearPairs(geometry, edges),
    kernels,
    loaded: loadSurface(kernels, geometry, edges),
    matrix: kernels.allocate(2 * nodes * nodes),
    sources: kernels.allocate(2 * nodes * n),
    pairs: kernels.allocate(2 * n * n),
    pivot: kernels.allocateIndices(nodes),
    scratch: kernels.allocate(waveScratch(n, nodes)),
  };
}

/**
 * Fills and factors the matrix, and fills the sources, of the surface's pressure per unit ACCELERATION and unit density (hats).
 * Burton and Miller's combination of the boundary integral equation and its normal derivative, both tested with hats:
 *   (1/2 - K) p + i eta N p = S v - i eta (1/2 + K') v,   <N p, q> = integral of (k2 n.n' p q - curl p . curl q) G
 * k in 1/m, eta in m (0: the plain equation, which fails at the inner resonances of the body's shape with zero pressure).
 * Fails: 'singular'. Sources: BURTON-MILLER-1971; weak form of N: NEDELEC-1982 (both from memory, proven on spheres).
 */
export function factorWaves(s: WaveSystem, k: number, eta: number): Outcome<null> {
  const { kernels, geometry: g } = s;
  const { nodes, panels } = g;
  s.matrix.fill(0);
  s.sources.fill(0);
  const re = placeOf(s.matrix);
  const im = re + nodes * nodes;
  const bRe = placeOf(s.sources);
  const { edges, stride, middles, joins, corners, curls } = s.loaded;
  const scratch = placeOf(s.scratch);
  const pairs = placeOf(s.pairs);
  kernels.wavePairs.addWavePairs(
    k,
    eta,
    edges,
    stride,
    middles,
    joins,
    nodes,
    panels,
    re,
    bRe,
    pairs,
    scratch,
  );
  if (eta !== 0) kernels.wavePairs.addWaveCurls(eta, nodes, panels, corners, curls, pairs, re, scratch);
  addNear(s, k, eta);
  addHalves(s, eta);
  let largest = 0;
  for (let i = 0; i < 2 * nodes * nodes; i++) largest = Math.max(largest, Math.abs(s.matrix[i]));
  const column = kernels.complexLu.factorComplex(
    re,
    im,
    nodes,
    nodes * 2e-16 * largest,
    placeOf(s.pivot),
    scratch,
  );
  if (column > 0) return failed("singular", `the outer air's equations have no pivot in column ${column}`);
  return done(null);
}

const quarter = 1 / (4 * Math.PI);

/** The static share that the plain rule misses between near panels; it does not depend on k. */
function addNear({ near, geometry: g, matrix, sources }: WaveSystem, k: number, eta: number): void {
  const { nodes, panels, corner, normal, curl } = g;
  const { missing } = near;
  const im = nodes * nodes;
  const bIm = nodes * panels;
  for (let p = 0; p < near.count; p++) {
    const a = near.panel[2 * p];
    const b = near.panel[2 * p + 1];
    const o = 27 * p;
    let total = 0;
    for (let e = o; e < o + 9; e++) total += missing[e];
    const facing =
      normal[3 * a] * normal[3 * b] +
      normal[3 * a + 1] * normal[3 * b + 1] +
      normal[3 * a + 2] * normal[3 * b + 2];
    for (let m = 0; m < 3; m++) {
      for (let n = 0; n < 3; n++) {
        const e = o + 3 * m + n;
        const row = corner[3 * a + m];
        const column = corner[3 * b + n];
        const there = row * nodes + column;
        const back = column * nodes + row;
        const single = quarter * missing[e];
        const onB = quarter * missing[9 + e];
        const onA = quarter * missing[18 + e];
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

/** The halves of both equations. */
function addHalves({ geometry: g, matrix, sources }: WaveSystem, eta: number): void {
  const { nodes, panels, corner, area } = g;
  const bIm = nodes * panels;
  for (let t = 0; t < panels; t++) {
    for (let m = 0; m < 3; m++) {
      const row = corner[3 * t + m];
      sources[bIm + row * panels + t] -= (eta * area[t]) / 6;
      for (let n = 0; n < 3; n++)
        matrix[row * nodes + corner[3 * t + n]] += (area[t] * (m === n ? 2 : 1)) / 24;
    }
  }
}
