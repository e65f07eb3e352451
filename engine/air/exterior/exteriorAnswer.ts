import {
  type Context,
  done,
  failed,
  type Kernels,
  type Outcome,
  placeOf,
  typescriptKernels,
  type Warning,
} from "#engine/numerics";
import type { ExteriorField, ExteriorOperators, FrequencyOperators } from "./exterior.ts";
import { farDirections } from "./farDirections.ts";
import { farField, outgoingRoom, pressureAt, type SoundingSurface } from "./outgoing.ts";
import { panelEdges } from "./panelEdges.ts";
import { type PanelGeometry, panelGeometry } from "./panelGeometry.ts";
import { type SurfaceMeasures, surfaceMeasures } from "./surfaceMeasures.ts";

/**
 * The outer air's answer to patterns of normal velocity (P x panels, out of the body): radiation matrix and pressures at
 * listeners, at each frequency of the operators.
 *
 * Mass from the pressure on the surface, made symmetric; resistance from the power sent to infinity, which cannot be
 * negative: r_ij = density/c Re integral of conj(f_i) f_j over all directions.
 * Holds while panels are shorter than a sixth of a wavelength or so (a warning says where not).
 * Fails: 'cancelled', 'patterns'.
 */
export function exteriorAnswer(
  operators: ExteriorOperators,
  patterns: Float64Array,
  ctx: Context,
): Outcome<ExteriorField> {
  const { surface, at } = operators;
  const { frequencies, listeners, density, soundSpeed } = operators.options;
  const g = panelGeometry(surface);
  const count = patterns.length / g.panels;
  if (!Number.isInteger(count) || count === 0)
    return failed("patterns", `${patterns.length} values do not make patterns over ${g.panels} panels`);
  const measures = surfaceMeasures(g);
  const top = frequencies.length - 1;
  const waveNumber = (f: number): number => (2 * Math.PI * f) / soundSpeed;
  const places = Math.max(
    farDirections(farDegree(waveNumber(frequencies[top]), measures)).count,
    listeners.length / 3,
  );
  const room =
    soundingRoom(g, count) +
    outgoingRoom({ geometry: g, count }, places) +
    count * (g.nodes + 2 * count + 4 * places) +
    32;
  const system = soundingSurface(g, patterns, count, (ctx.kernels ?? typescriptKernels)(room));
  const size = frequencies.length;
  const field: ExteriorField = {
    count,
    frequencies: frequencies.slice(),
    soundSpeed,
    resistance: new Float64Array(size * count * count),
    mass: new Float64Array(size * count * count),
    listeners: listeners.slice(),
    pressureRe: new Float64Array((size * listeners.length * count) / 3),
    pressureIm: new Float64Array((size * listeners.length * count) / 3),
    travel: Float64Array.from({ length: listeners.length / 3 }, (_, l) =>
      Math.hypot(
        listeners[3 * l] - measures.centre[0],
        listeners[3 * l + 1] - measures.centre[1],
        listeners[3 * l + 2] - measures.centre[2],
      ),
    ),
    checks: {
      asymmetry: new Float64Array(size),
      powerMismatch: new Float64Array(size),
      combination: Float64Array.from(at, ({ combination }) => combination),
    },
  };
  const work = nodalWeights(system, patterns);
  for (let f = 0; f < size; f++) {
    if (ctx.cancelled()) return failed("cancelled", "the outer air was no longer wanted");
    const k = waveNumber(frequencies[f]);
    sound(system, at[f]);
    addFrequency(field, system, work, f, density);
    radiate(field, system, f, k, density, measures);
    listen(field, system, f, k, density);
    ctx.progress((f + 1) / size);
  }
  return done(field, coarseWarnings(g.size, waveNumber(frequencies[top])));
}

interface Sounding extends SoundingSurface {
  readonly factors: Float64Array;
  readonly pivot: Int32Array;
  readonly sources: Float64Array;
}

function soundingRoom({ nodes, panels }: PanelGeometry, count: number): number {
  return 2 * nodes * (nodes + panels + count) + panels * count + 9 * nodes + 8 * panels + 32;
}

function soundingSurface(
  geometry: PanelGeometry,
  patterns: Float64Array,
  count: number,
  kernels: Kernels,
): Sounding {
  const { panels: n, nodes } = geometry;
  const held = kernels.allocate(n * count);
  for (let p = 0; p < count; p++) for (let t = 0; t < n; t++) held[t * count + p] = patterns[p * n + t];
  return {
    geometry,
    edges: panelEdges(geometry),
    kernels,
    count,
    patterns: held,
    pressure: kernels.allocate(2 * nodes * count),
    factors: kernels.allocate(2 * nodes * nodes),
    pivot: kernels.allocateIndices(nodes),
    sources: kernels.allocate(2 * nodes * n),
    scratch: kernels.allocate(8 * nodes + 8 * n),
  };
}

/** The pressure on the surface at one frequency. */
function sound(s: Sounding, { factors, pivot, sources }: FrequencyOperators): void {
  const { kernels, count } = s;
  const { nodes, panels } = s.geometry;
  s.factors.set(factors);
  s.pivot.set(pivot);
  s.sources.set(sources);
  s.pressure.fill(0);
  const p = placeOf(s.pressure);
  const scratch = placeOf(s.scratch);
  // Real and imaginary rows stand below each other, so that one real product serves both.
  kernels.complexLu.multiplyRows(
    2 * nodes,
    panels,
    count,
    placeOf(s.sources),
    panels,
    placeOf(s.patterns),
    count,
    p,
    count,
    scratch,
  );
  const re = placeOf(s.factors);
  kernels.complexLu.solveComplex(
    re,
    re + nodes * nodes,
    nodes,
    placeOf(s.pivot),
    p,
    p + nodes * count,
    count,
    scratch,
  );
}

/** Panels a wavelength at which the solution is still good to a per cent or two on a body's own motions. */
const panelsPerWave = 6;

function coarseWarnings(sizes: Float64Array, k: number): Warning[] {
  const longest = sizes.reduce((a, b) => Math.max(a, b), 0);
  const wave = (2 * Math.PI) / k;
  if (panelsPerWave * longest <= wave) return [];
  return [
    {
      code: "coarse-panels",
      detail: `the outside is told by panels of up to ${longest.toPrecision(2)} m, the shortest wave is ${wave.toPrecision(2)} m: what radiates weakly near the upper end is coarse`,
    },
  ];
}

/** Degree of the directions that integrate the power of a body of this radius to 1e-4 or better. */
function farDegree(k: number, { radius }: SurfaceMeasures): number {
  return Math.ceil(k * radius) + 3;
}

/** The patterns as weights of nodal pressures, P x nodes, and room for the products. */
function nodalWeights(system: SoundingSurface, patterns: Float64Array): Float64Array {
  const { geometry: g, count } = system;
  const weights = system.kernels.allocate(count * g.nodes);
  for (let i = 0; i < count; i++) {
    for (let t = 0; t < g.panels; t++) {
      const w = (patterns[i * g.panels + t] * g.area[t]) / 3;
      for (let m = 0; m < 3; m++) weights[i * g.nodes + g.corner[3 * t + m]] += w;
    }
  }
  return weights;
}

/** Work of the surface's pressure on the patterns: mass, and the resistance for comparison. */
function addFrequency(
  field: ExteriorField,
  system: SoundingSurface,
  weights: Float64Array,
  f: number,
  density: number,
): void {
  const { kernels, geometry: g, count } = system;
  const mark = kernels.mark();
  const work = kernels.allocate(2 * count * count);
  const p = placeOf(system.pressure);
  const scratch = placeOf(system.scratch);
  for (const part of [0, 1]) {
    const from = p + part * g.nodes * count;
    const to = placeOf(work) + part * count * count;
    kernels.complexLu.multiplyRows(
      count,
      g.nodes,
      count,
      placeOf(weights),
      g.nodes,
      from,
      count,
      to,
      count,
      scratch,
    );
  }
  const omega = 2 * Math.PI * field.frequencies[f];
  const mass = field.mass.subarray(f * count * count, (f + 1) * count * count);
  const resistance = field.resistance.subarray(f * count * count, (f + 1) * count * count);
  let largest = 0;
  let skew = 0;
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) {
      const e = i * count + j;
      const turned = count * count;
      const back = j * count + i;
      mass[e] = 0.5 * density * (work[e] + work[back]);
      resistance[e] = (-0.5 * density * (work[turned + e] + work[turned + back])) / omega;
      largest = Math.max(largest, Math.hypot(work[e], work[turned + e]));
      skew = Math.max(skew, Math.hypot(work[e] - work[back], work[turned + e] - work[turned + back]));
    }
  }
  field.checks.asymmetry[f] = skew / largest;
  kernels.release(mark);
}

/** Resistance from the far field, in place of the surface's, and how far the two differ. */
function radiate(
  field: ExteriorField,
  system: SoundingSurface,
  f: number,
  k: number,
  density: number,
  measures: SurfaceMeasures,
): void {
  const { count } = field;
  const directions = farDirections(farDegree(k, measures));
  const far = farField(system, k, directions, measures.centre);
  const resistance = field.resistance.subarray(f * count * count, (f + 1) * count * count);
  const { kernels } = system;
  const mark = kernels.mark();
  const rows = 2 * directions.count;
  const weighted = kernels.allocate(rows * count);
  const held = kernels.allocate(rows * count);
  const gram = kernels.allocate(count * count);
  held.set(far);
  for (let d = 0; d < rows; d++)
    for (let i = 0; i < count; i++)
      weighted[i * rows + d] = directions.weight[d % directions.count] * far[d * count + i];
  kernels.complexLu.multiplyRows(
    count,
    rows,
    count,
    placeOf(weighted),
    rows,
    placeOf(held),
    count,
    placeOf(gram),
    count,
    placeOf(system.scratch),
  );
  let largest = 0;
  let gap = 0;
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++) {
      const r = (gram[i * count + j] * density) / field.soundSpeed;
      largest = Math.max(largest, Math.abs(r));
      gap = Math.max(gap, Math.abs(r - resistance[i * count + j]));
      resistance[i * count + j] = r;
      resistance[j * count + i] = r;
    }
  }
  kernels.release(mark);
  field.checks.powerMismatch[f] = gap / largest;
}

function listen(field: ExteriorField, system: SoundingSurface, f: number, k: number, density: number): void {
  const places = field.travel.length;
  if (places === 0) return;
  const size = places * field.count;
  const heard = pressureAt(system, k, field.listeners);
  for (let l = 0; l < places; l++) {
    const c = density * Math.cos(k * field.travel[l]);
    const s = density * Math.sin(k * field.travel[l]);
    for (let i = l * field.count; i < (l + 1) * field.count; i++) {
      field.pressureRe[f * size + i] = c * heard[i] - s * heard[size + i];
      field.pressureIm[f * size + i] = c * heard[size + i] + s * heard[i];
    }
  }
}
