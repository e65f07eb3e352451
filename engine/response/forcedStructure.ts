import { complexLu, complexLuSolve, done, failed, type Outcome } from "#engine/numerics";
import { airChange } from "./modalLosses.ts";
import { evenWeights } from "./outerBasis.ts";
import { prepareCoupling } from "./prepareCoupling.ts";
import type { OuterAir, StructureParts } from "./structureParts.ts";

/** Steady motion of the body under a force of 1 N (amplitude) at one crown, with all losses at that frequency. */
export interface ForcedStructure {
  /** 3C: velocity of every crown direction per newton, m/(s N), without the residual compliance. */
  readonly mobility: ComplexPart;
  /** Displacement of the coordinates of `CoupledStructure`. */
  readonly motion: ComplexPart;
  /** m3/s per newton: of top, back, sides and opening. */
  readonly flow: ComplexPart;
  /** W, mean over a cycle, each from its own formula. */
  readonly power: {
    /** Force times velocity where it acts. */
    readonly input: number;
    /** Imaginary stiffness of the wood times strain. */
    readonly wood: number;
    /** Friction at the opening; flow through leaks; heat exchanged with the walls; friction along them. */
    readonly hole: number;
    readonly leak: number;
    readonly heat: number;
    readonly friction: number;
    /** Work on the air outside: velocity times resistance. */
    readonly radiated: number;
  };
}

export interface ComplexPart {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/**
 * The full complex equations solved at one omega (rad/s) of the outer air's table, no modes of the coupled body in between
 * and the outer air in full rank: the slow twin of `crownMobility`, and the account of where the power goes. direction =
 * 3 crown + [normal, across, along]. Fails as `prepareCoupling` does, and with 'singular'.
 */
export function forcedStructure(
  parts: StructureParts,
  direction: number,
  omega: number,
): Outcome<ForcedStructure> {
  const prepared = prepareCoupling(parts);
  if (!prepared.ok) return prepared;
  const c = prepared.value.system;
  const { n, laws } = c;
  const re = c.stiffness.map((k, i) => k - omega * omega * c.mass[i]);
  const im = c.wood.slice();
  const add = (row: Float64Array, a: number, b: number) => {
    for (let i = 0; i < n; i++) {
      if (row[i] === 0) continue;
      for (let j = 0; j < n; j++) {
        re[i * n + j] += a * row[i] * row[j];
        im[i * n + j] += b * row[i] * row[j];
      }
    }
  };
  const rubs = laws ? laws.rub.length / n : 0;
  const rowOf = (a: Float64Array, k: number) => a.subarray(k * n, k * n + n);
  if (laws) {
    for (let k = 0; k < laws.count; k++) {
      const change = airChange(laws, k, omega);
      add(rowOf(laws.strain, k), change.strainRe, change.strainIm);
      add(rowOf(laws.flow, k), -change.friction, change.friction);
    }
    for (let k = 0; k < rubs; k++) add(rowOf(laws.rub, k), 0, omega ** 1.5);
  }
  const outer = parts.outside && outerTables(parts.outside, omega);
  if (outer) {
    const p = outer.count;
    for (let i = 0; i < p; i++) {
      for (let j = 0; j < p; j++) {
        re[i * n + j] -= omega ** 2 * outer.mass[i * p + j];
        im[i * n + j] += omega ** 3 * outer.resistance[i * p + j];
      }
    }
  }
  const lu = complexLu(re, im, n);
  if (!lu.ok) return failed(lu.reason, `forced motion at ${omega} rad/s: ${lu.detail}`);
  const x = complexLuSolve(lu.value, rowOf(c.rows.crowns, direction).slice(), new Float64Array(n));

  const value = (row: Float64Array) => {
    let [a, b] = [0, 0];
    for (let k = 0; k < n; k++) {
      a += row[k] * x.re[k];
      b += row[k] * x.im[k];
    }
    return [a, b] as const;
  };
  const square = (row: Float64Array) => {
    const [a, b] = value(row);
    return a * a + b * b;
  };
  const velocities = (forms: Float64Array): ComplexPart => {
    const count = forms.length / n;
    const out = { re: new Float64Array(count), im: new Float64Array(count) };
    for (let d = 0; d < count; d++) {
      const [a, b] = value(rowOf(forms, d));
      out.re[d] = -omega * b;
      out.im[d] = omega * a;
    }
    return out;
  };
  const mobility = velocities(c.rows.crowns);
  let wood = 0;
  let radiated = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const product = x.re[i] * x.re[j] + x.im[i] * x.im[j];
      wood += 0.5 * omega * c.wood[i * n + j] * product;
      if (outer && i < outer.count && j < outer.count)
        radiated += 0.5 * omega ** 4 * outer.resistance[i * outer.count + j] * product;
    }
  }
  let [hole, leak, heat, friction] = [0, 0, 0, 0];
  if (laws) {
    for (let k = 0; k < laws.count; k++) {
      const change = airChange(laws, k, omega);
      // Pressure of the mode inside, squared; through the leak, and into the layer at the wall.
      const kappa = laws.stiffness[k];
      const pressure =
        ((kappa + change.strainRe) ** 2 + change.strainIm ** 2) * square(rowOf(laws.strain, k));
      if (k === 0) leak = 0.5 * laws.leak * pressure;
      heat += (0.5 * Math.sqrt(omega) * laws.heat[k] * pressure) / kappa;
      friction += 0.5 * omega ** 2.5 * laws.inertia[k] * laws.friction[k] * square(rowOf(laws.flow, k));
    }
    for (let k = 0; k < rubs; k++) hole += 0.5 * omega ** 2.5 * square(rowOf(laws.rub, k));
  }
  return done({
    mobility,
    motion: x,
    flow: velocities(c.rows.flow),
    power: { input: 0.5 * mobility.re[direction], wood, hole, leak, heat, friction, radiated },
  });
}

/** The outer air's tables at omega, in full: resistance over w^2, and mass less that at the lowest frequency. */
function outerTables(
  air: OuterAir,
  omega: number,
): { readonly count: number; readonly resistance: Float64Array; readonly mass: Float64Array } {
  const { count } = air;
  const weights = evenWeights(air.frequencies, omega / (2 * Math.PI));
  const size = count * count;
  const resistance = new Float64Array(size);
  const mass = air.mass.slice(0, size).map((m) => -m);
  weights.forEach((w, f) => {
    for (let i = 0; i < size; i++) {
      resistance[i] += w * air.resistance[f * size + i];
      mass[i] += w * air.mass[f * size + i];
    }
  });
  return { count, resistance, mass };
}
