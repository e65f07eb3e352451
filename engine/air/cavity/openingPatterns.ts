import { choleskyDense, choleskySolve, done, luSolve, type Outcome } from "#engine/numerics";
import type { OpeningPanels } from "./openingPanels.ts";
import { rowProducts } from "./rowProducts.ts";

/** A family of flows through the opening that holds the patterns sought: what even, sloping, ... pressures drive. */
export interface PatternBasis {
  readonly count: number;
  /** count x panels: flow through each panel. */
  readonly flows: Float64Array;
  /** count x panels: the pressure (a monomial of place) that drives each. */
  readonly pressures: Float64Array;
}

/**
 * Flows that monomials of place drive through both flanged ends and the wall:  (2 P + W) f = m_k,  W of `wallPlug`. The
 * true inner and outer fields differ from the flanged ones by something smooth, so the patterns of the real opening lie
 * very nearly in this family: 10 members, to degree 3 over a flat opening; 9 of degree 2 in x, y, z over a bent one.
 */
export function patternBasis(
  panels: OpeningPanels,
  potential: Float64Array,
  plug: Float64Array,
  bent: boolean,
): Outcome<PatternBasis> {
  const { count: n, areas, centroids } = panels;
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
  const total = potential.map((v, e) => 2 * v + plug[e]);
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
  [0, 1, 1],
] as const;

/** A member, or a pattern, that keeps less than this of its inertance beside those before it is one of them. */
const DEPENDENT = 1e-8;

/**
 * The opening's patterns within the family: L c = (what each pressure does on each member), L the total inertance of the
 * members. The first answers an even pressure and is scaled to unit flow; the others are freed of net flow, which makes
 * them orthogonal to the first in L, then made so among themselves, each with the first one's inertance.
 * Members (and patterns) that depend on those before them are left out: `count` patterns at most come back, as rows of
 * coefficients of the members. Fails with 'not-positive-definite'.
 */
export function patternsOf(
  basis: PatternBasis,
  panelCount: number,
  inertance: Float64Array,
  count: number,
): Outcome<Float64Array> {
  const { count: b, flows, pressures } = basis;
  const kept = independent(inertance, b);
  const size = kept.length;
  const reduced = Float64Array.from(
    { length: size * size },
    (_, e) => inertance[kept[Math.floor(e / size)] * b + kept[e % size]],
  );
  const factor = choleskyDense(reduced, size);
  if (!factor.ok) return factor;
  const work = rowProducts(pressures, flows, panelCount);
  const net = work.subarray(0, b);
  const dot = (x: Float64Array, y: Float64Array) => x.reduce((sum, v, i) => sum + v * y[i], 0);
  const found: Float64Array[] = [];
  for (let k = 0; k < b && found.length < count; k++) {
    const c = choleskySolve(
      factor.value,
      size,
      Float64Array.from(kept, (m) => work[k * b + m]),
    );
    const own = dot(c, rowProducts(c, reduced, size));
    for (const before of found) {
      const image = rowProducts(before, reduced, size);
      const share = dot(c, image) / dot(before, image);
      for (let j = 0; j < size; j++) c[j] -= share * before[j];
    }
    const left = dot(c, rowProducts(c, reduced, size));
    if (left < DEPENDENT * own) continue;
    const first = found[0];
    const scale =
      first === undefined
        ? dot(
            c,
            Float64Array.from(kept, (m) => net[m]),
          )
        : Math.sqrt(left / dot(first, rowProducts(first, reduced, size)));
    found.push(c.map((v) => v / scale));
  }
  const out = new Float64Array(found.length * b);
  found.forEach((c, k) => {
    for (let j = 0; j < size; j++) out[k * b + kept[j]] = c[j];
  });
  return done(out);
}

/** Members that no earlier ones make up, by the pivots of the inertance. */
function independent(inertance: Float64Array, b: number): number[] {
  const kept: number[] = [];
  const rows: Float64Array[] = [];
  for (let m = 0; m < b; m++) {
    const row = new Float64Array(kept.length + 1);
    let pivot = inertance[m * b + m];
    for (let i = 0; i < kept.length; i++) {
      let sum = inertance[m * b + kept[i]];
      for (let k = 0; k < i; k++) sum -= row[k] * rows[i][k];
      row[i] = sum / rows[i][i];
      pivot -= row[i] * row[i];
    }
    if (!(pivot > DEPENDENT * inertance[m * b + m])) continue;
    row[kept.length] = Math.sqrt(pivot);
    kept.push(m);
    rows.push(row);
  }
  return kept;
}
