import {
  analysePattern,
  type Context,
  done,
  factorize,
  luSolve,
  type Outcome,
  solveFactored,
  symmetricMultiply,
} from "#engine/numerics";
import type { BodySystem } from "./bodyModel.ts";
import { rigidMotions } from "./bodySystem.ts";
import { motionsUnder } from "./motionRows.ts";
import { type BodyLoad, loadRows } from "./staticLoads.ts";
import { supportedStiffness } from "./staticSupports.ts";

/** Linear static solution of the body under loads. */
export interface BodyStatic {
  /** The unknowns, relative to the datum. */
  readonly rows: Float64Array;
  /** Every motion of the layout (6 by node, then the ribs' turns), relative to the datum. */
  readonly motion: Float64Array;
  /** J, half the work of the loads. */
  readonly energy: number;
  /** |K x - b| / |b| of the equations solved: how well every node is in equilibrium. */
  readonly residual: number;
  /**
   * Resultant of the loads about the origin (N, N m). A free body is solved with it balanced by the body's own inertia, as if
   * it accelerated; for string loads it is zero but for rounding.
   */
  readonly resultant: Float64Array;
}

/**
 * Motions under each set of loads, on one factorisation. A free body's rigid motion is taken out so that the top's edge (the side's
 * upper ring; without sides the top's own edge, else the whole surface) stays where it was in the mean, displaced and turned by
 * nothing (least squares). A held body moves against its supports.
 * Fails as `loadRows` does and with 'not-positive-definite'.
 */
export function bodyStatic(
  system: BodySystem,
  cases: readonly (readonly BodyLoad[])[],
  ctx: Context,
  analysis?: ReturnType<typeof analysePattern>,
): Outcome<readonly BodyStatic[]> {
  const { n, layout, stiffness: k } = system;
  const b = new Float64Array(n * cases.length);
  for (const [c, loads] of cases.entries()) {
    const rows = loadRows(system, loads);
    if (!rows.ok) return rows;
    b.set(rows.value, c * n);
  }
  const free = system.spec.support === "free";
  const rigid = rigidMotions(layout.rowMotion, layout.places);
  const resultants = cases.map((_, c) => timesColumns(rigid, b.subarray(c * n, (c + 1) * n), 6));
  if (free) {
    const inertia = symmetricMultiply(system.mass, rigid, 6);
    const mass = new Float64Array(36);
    for (let i = 0; i < 6; i++) mass.set(timesColumns(inertia, rigid.subarray(i * n, (i + 1) * n), 6), 6 * i);
    for (let c = 0; c < cases.length; c++) {
      const share = luSolve(mass, 6, resultants[c]);
      if (!share.ok) return share;
      for (let i = 0; i < 6; i++)
        for (let r = 0; r < n; r++) b[c * n + r] -= share.value[i] * inertia[i * n + r];
    }
  }
  const factor = factorize(
    supportedStiffness(system),
    { analysis: analysis ?? analysePattern(k, system.group) },
    ctx,
  );
  if (!factor.ok) return factor;
  const x = solveFactored(factor.value, b, cases.length);
  // once more on what is left, so that rounding of the supports' soft swing does not show in the strains
  const left = symmetricMultiply(k, x, cases.length);
  for (let i = 0; i < left.length; i++) left[i] = b[i] - left[i];
  const better = solveFactored(factor.value, left, cases.length);
  for (let i = 0; i < x.length; i++) x[i] += better[i];
  const reached = symmetricMultiply(k, x, cases.length);
  const results: BodyStatic[] = [];
  for (let c = 0; c < cases.length; c++) {
    const from = c * n;
    let wrong = 0;
    let size = 0;
    let energy = 0;
    for (let i = from; i < from + n; i++) {
      wrong += (reached[i] - b[i]) ** 2;
      size += b[i] ** 2;
      energy += (x[i] * reached[i]) / 2;
    }
    const own = x.subarray(from, from + n);
    if (free) {
      const fit = rigidFit(system, motionsUnder(layout.map, own));
      if (!fit.ok) return fit;
      for (let q = 0; q < 6; q++) for (let i = 0; i < n; i++) own[i] -= fit.value[q] * rigid[q * n + i];
    }
    results.push({
      rows: own,
      motion: motionsUnder(layout.map, own),
      energy,
      residual: size === 0 ? 0 : Math.sqrt(wrong / size),
      resultant: resultants[c],
    });
  }
  return done(results);
}

/** Products of each of the columns with a vector. */
function timesColumns(columns: Float64Array, v: Float64Array, count: number): Float64Array {
  const out = new Float64Array(count);
  for (let c = 0; c < count; c++)
    for (let i = 0; i < v.length; i++) out[c] += columns[c * v.length + i] * v[i];
  return out;
}

/** Nodes whose mean motion is called none. */
function datumNodes({ mesh, layout }: BodySystem): ArrayLike<number> {
  if (mesh.sideRings.length > 0) return mesh.sideRings[0];
  if (mesh.top !== null) return mesh.top.boundary[0].map((node) => mesh.topNode[node]);
  return Array.from({ length: layout.shellNodes }, (_, k) => k);
}

/** Displacement q of a node under unit rigid motions about the origin. */
function rigidRow(places: Float64Array, node: number, q: number, row: Float64Array): void {
  row.fill(0);
  const a = (q + 1) % 3;
  const c = (q + 2) % 3;
  row[q] = 1;
  // (Theta x r)_q = Theta_a r_c - Theta_c r_a
  row[3 + a] = places[3 * node + c];
  row[3 + c] = -places[3 * node + a];
}

/** The rigid motion that fits the datum's translations best. */
export function rigidFit(system: BodySystem, motion: Float64Array): Outcome<Float64Array> {
  const { places } = system.layout;
  const nodes = datumNodes(system);
  const normal = new Float64Array(36);
  const right = new Float64Array(6);
  const row = new Float64Array(6);
  for (let k = 0; k < nodes.length; k++) {
    for (let q = 0; q < 3; q++) {
      rigidRow(places, nodes[k], q, row);
      for (let i = 0; i < 6; i++) {
        right[i] += row[i] * motion[6 * nodes[k] + q];
        for (let j = 0; j < 6; j++) normal[6 * i + j] += row[i] * row[j];
      }
    }
  }
  return luSolve(normal, 6, right);
}
