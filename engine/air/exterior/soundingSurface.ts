import { type Kernels, placeOf } from "#engine/numerics";
import type { FrequencyOperators } from "./exterior.ts";
import type { PanelGeometry } from "./panelGeometry.ts";

/** Patterns that move a surface and what that makes of the air at one frequency, in a kernel memory. */
export interface Sounding {
  readonly geometry: PanelGeometry;
  readonly kernels: Kernels;
  readonly count: number;
  /** panels x count. */
  readonly patterns: Float64Array;
  /** count x nodes: the patterns as weights of nodal pressures. */
  readonly weights: Float64Array;
  /** 2 nodes x count, real parts above imaginary ones: pressure on the surface per unit acceleration and density. */
  readonly pressure: Float64Array;
  /** 2 x count x count: work of the pressure (of pattern j) on pattern i. */
  readonly works: Float64Array;
  /** count x count: power sent away. */
  readonly power: Float64Array;
  /** 2 listeners x count. */
  readonly heard: Float64Array;
  readonly scratch: Float64Array;
}

/** Doubles for the answers of all these operators. */
export function soundingRoom(
  g: PanelGeometry,
  at: readonly FrequencyOperators[],
  count: number,
  places: number,
): number {
  const { nodes, panels } = g;
  let most = 0;
  for (const { equations: q, sentByMotion, sentByPressure } of at) {
    const waves = sentByMotion.length / panels;
    const factors = q.factors.length + q.sources.length + nodes;
    const ofWaves = q.kind === "standing" ? q.left.length + q.response.length : 0;
    const sent = sentByMotion.length + sentByPressure.length;
    most = Math.max(most, factors + ofWaves + sent + 5 * waves * count);
  }
  const heard = 2 * places * (panels + 2 * nodes + count);
  return most + heard + count * (panels + 3 * nodes + 3 * count) + scratchOf(g, at) + 64;
}

/** Room for the work of all the kernels used here. */
function scratchOf({ nodes, panels }: PanelGeometry, at: readonly FrequencyOperators[]): number {
  const waves = at.reduce((most, { sentByMotion }) => Math.max(most, sentByMotion.length / panels), 0);
  return 8 * Math.max(panels, 2 * nodes, 2 * waves);
}

export function soundingSurface(
  geometry: PanelGeometry,
  at: readonly FrequencyOperators[],
  given: Float64Array,
  count: number,
  places: number,
  kernels: Kernels,
): Sounding {
  const { panels, nodes, area, corner } = geometry;
  const patterns = kernels.allocate(panels * count);
  const weights = kernels.allocate(count * nodes);
  for (let i = 0; i < count; i++) {
    for (let t = 0; t < panels; t++) {
      const v = given[i * panels + t];
      patterns[t * count + i] = v;
      const w = (v * area[t]) / 3;
      for (let m = 0; m < 3; m++) weights[i * nodes + corner[3 * t + m]] += w;
    }
  }
  return {
    geometry,
    kernels,
    count,
    patterns,
    weights,
    pressure: kernels.allocate(2 * nodes * count),
    works: kernels.allocate(2 * count * count),
    power: kernels.allocate(count * count),
    heard: kernels.allocate(2 * places * count),
    scratch: kernels.allocate(scratchOf(geometry, at)),
  };
}

/** Solves one frequency: fills pressure, works, power and heard. */
export function sound(s: Sounding, operators: FrequencyOperators): void {
  const { kernels, count, geometry, patterns, weights, pressure, works, power, heard } = s;
  const { nodes, panels } = geometry;
  const { equations: q, sentByMotion, sentByPressure, heardOfMotion, heardOfPressure } = operators;
  const waves = sentByMotion.length / panels;
  const mark = kernels.mark();
  const lu = kernels.complexLu;
  const scratch = placeOf(s.scratch);
  const load = (values: Float64Array): Float64Array => {
    const held = kernels.allocate(values.length);
    held.set(values);
    return held;
  };
  /** c += a b, b and c of `count` columns. */
  const add = (a: Float64Array, b: Float64Array, c: Float64Array, rows: number, inner: number): void =>
    lu.multiplyRows(rows, inner, count, placeOf(a), inner, placeOf(b), count, placeOf(c), count, scratch);
  for (const result of [pressure, works, power, heard]) result.fill(0);
  const real = pressure.subarray(0, nodes * count);
  const imaginary = pressure.subarray(nodes * count);
  const sent = kernels.allocate(2 * waves * count);
  const factors = placeOf(load(q.factors));
  const pivot = kernels.allocateIndices(nodes);
  pivot.set(q.pivot);
  const byMotion = load(sentByMotion);
  const byPressure = load(sentByPressure);
  if (q.kind === "standing") {
    add(load(q.sources), patterns, real, nodes, panels);
    lu.solveReal(factors, nodes, placeOf(pivot), placeOf(real), count, scratch);
    const alone = kernels.allocate(waves * count);
    add(byMotion, patterns, alone, waves, panels);
    add(byPressure, real, alone, waves, nodes);
    add(load(q.response), alone, sent, 2 * waves, waves);
    const left = load(q.left);
    add(left, sent.subarray(waves * count), real, nodes, waves);
    add(left, sent.subarray(0, waves * count), imaginary, nodes, waves);
  } else {
    // Real and imaginary rows stand below each other, so that one real product serves both.
    add(load(q.sources), patterns, pressure, 2 * nodes, panels);
    const [re, im] = [placeOf(real), placeOf(imaginary)];
    lu.solveComplex(factors, factors + nodes * nodes, nodes, placeOf(pivot), re, im, count, scratch);
    add(byMotion, patterns, sent, waves, panels);
    add(byPressure, real, sent, waves, nodes);
    add(byPressure, imaginary, sent.subarray(waves * count), waves, nodes);
  }
  add(weights, real, works, count, nodes);
  add(weights, imaginary, works.subarray(count * count), count, nodes);
  const turned = kernels.allocate(sent.length);
  for (let w = 0; w < 2 * waves; w++)
    for (let i = 0; i < count; i++) turned[i * 2 * waves + w] = sent[w * count + i];
  add(turned, sent, power, count, 2 * waves);
  const rows = heard.length / count;
  if (rows > 0) {
    add(load(heardOfMotion), patterns, heard, rows, panels);
    add(load(heardOfPressure), pressure, heard, rows, 2 * nodes);
  }
  kernels.release(mark);
}
