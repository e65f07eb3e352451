import { type Kernels, placeOf, type WaveSurface } from "#engine/numerics";
import type { StandingEquations } from "./exterior.ts";
import { loadSurface, surfaceRoom } from "./loadSurface.ts";
import { addStaticShares } from "./staticShares.ts";
import type { SurfaceParts } from "./surfaceParts.ts";
import type { SurfaceWaves } from "./surfaceWaves.ts";

/** The plain equation's real part at any frequency, with room to work in. */
export interface StandingSystem extends SurfaceParts {
  readonly kernels: Kernels;
  readonly loaded: WaveSurface;
  /** nodes x nodes and nodes x panels: what does not change with frequency. */
  readonly fixedMatrix: Float64Array;
  readonly fixedSources: Float64Array;
  readonly largest: number;
  readonly matrix: Float64Array;
  readonly sources: Float64Array;
  readonly pivot: Int32Array;
  readonly scratch: Float64Array;
}

/** Room for the work of all the kernels used here. */
function standingScratch(panels: number, nodes: number): number {
  return (2 * nodes + 16) * (1.5 * panels + 4) + 8 * nodes;
}

/** Doubles for so many panels and nodes, and at most so many waves. */
export function standingRoom(panels: number, nodes: number, waves: number): number {
  const sums = standingScratch(panels, nodes);
  const ofWaves = 2 * waves * nodes + 5 * waves * waves + waves;
  return surfaceRoom(panels) + nodes * (nodes + panels) + sums + ofWaves + nodes + 64;
}

export function standingSystem(parts: SurfaceParts, kernels: Kernels): StandingSystem {
  const { panels, nodes } = parts.geometry;
  const fixedMatrix = new Float64Array(nodes * nodes);
  const fixedSources = new Float64Array(nodes * panels);
  addStaticShares({ ...parts, matrix: fixedMatrix, sources: fixedSources }, 0, 0);
  let largest = 0;
  for (let i = 0; i < fixedMatrix.length; i++) largest = Math.max(largest, Math.abs(fixedMatrix[i]));
  return {
    ...parts,
    kernels,
    loaded: loadSurface(kernels, parts.geometry, parts.edges),
    fixedMatrix,
    fixedSources,
    largest,
    matrix: kernels.allocate(nodes * nodes),
    sources: kernels.allocate(nodes * panels),
    pivot: kernels.allocateIndices(nodes),
    scratch: kernels.allocate(standingScratch(panels, nodes)),
  };
}

/** Pivots of the real part may be this small, to the largest entry, before the equation is solved whole instead. */
const leastPivot = 1e-7;

/**
 * The plain equation A p = B v with its imaginary part in `waves`: as sin(kr)/(4 pi r) = k sum psi psi,
 *   A = Ar + ik X D,   B = Br - ik X S;   X = integral of h psi, S = integral of psi, D = integral of dpsi/dn h
 * so that with c = S v + D p, the waves sent away,
 *   p = Ar^-1 Br v - ik U c,   U = Ar^-1 X,   c = (1 + ik D U)^-1 (S v + D Ar^-1 Br v)
 * A quarter of the work of complex factors and none of their size. null where Ar alone is nearly singular: it may be at single
 * frequencies where A is not.
 */
export function standingEquations(
  s: StandingSystem,
  k: number,
  waves: SurfaceWaves,
): StandingEquations | null {
  const { kernels, geometry: g } = s;
  const { nodes, panels } = g;
  const { count } = waves;
  const { edges, stride, middles, joins } = s.loaded;
  const lu = kernels.complexLu;
  s.matrix.set(s.fixedMatrix);
  s.sources.set(s.fixedSources);
  const a = placeOf(s.matrix);
  const b = placeOf(s.sources);
  const pivot = placeOf(s.pivot);
  const scratch = placeOf(s.scratch);
  kernels.wavePairs.addStandingPairs(k, edges, stride, middles, joins, nodes, panels, a, b, scratch);
  if (lu.factorReal(a, nodes, leastPivot * s.largest, pivot, scratch) > 0) return null;
  const mark = kernels.mark();
  const left = kernels.allocate(nodes * count);
  left.set(waves.tested);
  const l = placeOf(left);
  lu.solveReal(a, nodes, pivot, l, count, scratch);
  for (let i = 0; i < left.length; i++) left[i] *= k;
  const double = kernels.allocate(count * nodes);
  double.set(waves.sentByPressure);
  // 1 + ik D U, and its inverse.
  const ring = kernels.allocate(2 * count * count);
  const inverse = kernels.allocate(2 * count * count);
  const turns = placeOf(kernels.allocateIndices(count));
  for (let i = 0; i < count; i++) {
    ring[i * count + i] = 1;
    inverse[i * count + i] = 1;
  }
  const [r, v] = [placeOf(ring), placeOf(inverse)];
  const square = count * count;
  lu.multiplyRows(count, nodes, count, placeOf(double), nodes, l, count, r + square, count, scratch);
  const singular = lu.factorComplex(r, r + square, count, leastPivot, turns, scratch);
  lu.solveComplex(r, r + square, count, turns, v, v + square, count, scratch);
  for (let i = 0; i < square; i++) inverse[i] = -inverse[i];
  const equations: StandingEquations = {
    kind: "standing",
    factors: s.matrix.slice(),
    pivot: s.pivot.slice(),
    sources: s.sources.slice(),
    left: left.slice(),
    response: inverse.slice(),
  };
  kernels.release(mark);
  return singular > 0 ? null : equations;
}
