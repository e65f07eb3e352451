import { choleskyDense, choleskySolve, done, luSolve, type Outcome } from "#engine/numerics";
import type { OpeningPanels } from "./openingPanels.ts";

/** A family of flows through the opening that holds the patterns sought: what even, sloping, ... pressures drive. */
export interface PatternBasis {
  readonly count: number;
  /** count x panels: flow through each panel. */
  readonly flows: Float64Array;
  /** count x panels: the pressure (a monomial of place) that drives each. */
  readonly pressures: Float64Array;
}

/**
 * Flows that monomials of place drive through both flanged ends and the wall:  (2 P + W) f = m_k,  W = h/A by panel. The
 * true inner and outer fields differ from the flanged ones by something smooth, so the patterns of the real opening lie
 * very nearly in this family: 10 members, to degree 3 over a flat opening and to degree 2 of x, y, z over a bent one.
 */
export function patternBasis(
  panels: OpeningPanels,
  potential: Float64Array,
  bent: boolean,
): Outcome<PatternBasis> {
  const { count: n, areas, areaRatio, wall, centroids } = panels;
  const area = areas.reduce((sum, a) => sum + a, 0);
  const middle = [0, 1, 2].map((d) => {
    let sum = 0;
    for (let p = 0; p < n; p++) sum += (areas[p] * centroids[3 * p + d]) / area;
    return sum;
  });
  const radius = Math.sqrt(area / Math.PI);
  const powers = bent ? BENT : FLAT;
  const pressures = new Float64Array(powers.length * n);
  powers.forEach((power, k) => {
    for (let p = 0; p < n; p++) {
      let value = 1;
      for (let d = 0; d < 3; d++) value *= ((centroids[3 * p + d] - middle[d]) / radius) ** power[d];
      pressures[k * n + p] = value;
    }
  });
  const total = potential.map((v) => 2 * v);
  for (let p = 0; p < n; p++) total[p * n + p] += wall[p] / (areas[p] * areaRatio);
  const factor = choleskyDense(total, n);
  if (factor.ok)
    return done({
      count: powers.length,
      flows: choleskySolve(factor.value, n, pressures, powers.length),
      pressures,
    });
  // Panels that overlap in a cusp cost positive definiteness; the same equations are then solved without it.
  const flows = new Float64Array(powers.length * n);
  for (let k = 0; k < powers.length; k++) {
    const solved = luSolve(total, n, pressures.slice(k * n, k * n + n));
    if (!solved.ok) return solved;
    flows.set(solved.value, k * n);
  }
  return done({ count: powers.length, flows, pressures });
}

/** Powers of x, y, z; the first ones are the patterns' own. */
const FLAT = [
  [0, 0, 0],
  [1, 0, 0],
  [0, 1, 0],
  [2, 0, 0],
  [1, 1, 0],
  [0, 2, 0],
  [3, 0, 0],
  [2, 1, 0],
  [1, 2, 0],
  [0, 3, 0],
] as const;
const BENT = [
  [0, 0, 0],
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
  [2, 0, 0],
  [0, 2, 0],
  [1, 1, 0],
  [0, 0, 2],
  [1, 0, 1],
  [0, 1, 1],
] as const;

/**
 * The opening's patterns within the family: L c = (what each pressure does on each member), L the total inertance of the
 * members. The first answers an even pressure and is scaled to unit flow; the others are freed of net flow, which makes
 * them orthogonal to the first in L, then made so among themselves, each with the first one's inertance.
 * Returns patterns x members. Fails with 'not-positive-definite'.
 */
export function patternsOf(
  basis: PatternBasis,
  panelCount: number,
  inertance: Float64Array,
  count: number,
): Outcome<Float64Array> {
  const { count: b, flows, pressures } = basis;
  const factor = choleskyDense(inertance, b);
  if (!factor.ok) return factor;
  const out = new Float64Array(count * b);
  const net = new Float64Array(b);
  for (let j = 0; j < b; j++) for (let p = 0; p < panelCount; p++) net[j] += flows[j * panelCount + p];
  const dot = (x: Float64Array, y: Float64Array) => x.reduce((sum, v, i) => sum + v * y[i], 0);
  const times = (x: Float64Array) =>
    Float64Array.from({ length: b }, (_, i) => dot(inertance.subarray(i * b, i * b + b), x));
  for (let k = 0; k < count; k++) {
    const work = new Float64Array(b);
    for (let j = 0; j < b; j++)
      for (let p = 0; p < panelCount; p++)
        work[j] += pressures[k * panelCount + p] * flows[j * panelCount + p];
    const c = choleskySolve(factor.value, b, work);
    for (let i = 0; i < k; i++) {
      const before = out.subarray(i * b, i * b + b);
      const image = times(before);
      const share = dot(c, image) / dot(before, image);
      for (let j = 0; j < b; j++) c[j] -= share * before[j];
    }
    const first = out.subarray(0, b);
    const scale = k === 0 ? dot(c, net) : Math.sqrt(dot(c, times(c)) / dot(first, times(first)));
    for (let j = 0; j < b; j++) out[k * b + j] = c[j] / scale;
  }
  return done(out);
}
