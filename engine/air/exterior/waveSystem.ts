import { done, failed, type Kernels, type Outcome, placeOf, type WaveSurface } from "#engine/numerics";
import { loadSurface, surfaceRoom } from "./loadSurface.ts";
import { addStaticShares } from "./staticShares.ts";
import type { SurfaceParts } from "./surfaceParts.ts";

/** All that does not change with frequency, with room to work in. */
export interface WaveSystem extends SurfaceParts {
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
export function waveSystem(parts: SurfaceParts, kernels: Kernels): WaveSystem {
  const { geometry, edges } = parts;
  const { panels: n, nodes } = geometry;
  return {
    ...parts,
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
  addStaticShares(s, k, eta);
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
