import { done, failed, invariant, type KernelSource, type Outcome } from "#engine/numerics";
import type { RigidWallAir } from "./bodyResponse.ts";
import type { CavityLaws, CoupledStructure } from "./coupledStructure.ts";
import { outerBasis } from "./outerBasis.ts";
import type { CavityAir, StructureParts } from "./structureParts.ts";
import { structureResidual } from "./structureResidual.ts";
import { structureRows } from "./structureRows.ts";
import { backLift, type TopMotions, topMotions } from "./topMotions.ts";

/** The coupled equations, and what is known of the top's motion beside them. */
export interface Coupling {
  readonly system: CoupledStructure;
  readonly top: TopMotions;
  /** P x nodes of the back's mesh: outward motion; absent, like an empty `top.lift`: nothing is to be drawn. */
  readonly backLift?: Float64Array;
  /** Where it is known already (no edit of the structure moves it); null: no hole. Absent: to be found. */
  readonly rigidWallAir?: RigidWallAir | null;
}

/**
 * Assembles the coupled equations: once for a body, before any solving. Fails with 'crowns-missing', 'points-missing',
 * 'crown-outside', 'cavity-volume', 'loss-negative', 'table-size'.
 */
export function prepareCoupling(parts: StructureParts, kernels?: KernelSource): Outcome<Coupling> {
  const fault = partsFault(parts);
  if (fault) return fault;
  const { body, cavity } = parts;
  const p = body.rigidCount + body.count;
  const a = cavity?.aperture?.count ?? 0;
  const n = p + a + Math.max(0, (cavity?.count ?? 0) - 1);
  const top = topMotions(body, parts.topRim);
  const rows = structureRows(parts, n);
  if (!rows.ok) return rows;
  const residual = structureResidual(parts);
  if (!residual.ok) return residual;

  const stiffness = new Float64Array(n * n);
  const mass = new Float64Array(n * n);
  const wood = new Float64Array(n * n);
  addStructure(parts, stiffness, mass, wood, n);
  for (const s of rows.value.springs) addSquare(stiffness, s.row, s.stiffness, n);
  const laws = cavity && cavityLaws(cavity, p, n);
  if (cavity && laws) {
    for (let k = 0; k < laws.count; k++) {
      addSquare(stiffness, laws.strain.subarray(k * n, k * n + n), laws.stiffness[k], n);
      addSquare(mass, laws.flow.subarray(k * n, k * n + n), laws.inertia[k], n);
    }
    addLeading(mass, cavity.residual, n, p + a, p);
    for (let i = 0; i < a; i++) {
      for (let j = 0; j < a; j++) mass[(p + i) * n + p + j] += cavity.aperture?.inertance[i * a + j] ?? 0;
    }
  }
  if (parts.outside) {
    // The opening's own outer end is in its inertance already, more finely resolved.
    addLeading(mass, parts.outside.mass, n, p + a, p);
  }
  const scale = Float64Array.from({ length: p + a }, (_, i) => Math.sqrt(mass[i * n + i]));
  const system: CoupledStructure = {
    n,
    rigidCount: body.rigidCount,
    structureCount: p,
    apertureCount: a,
    stiffness,
    mass,
    wood,
    laws,
    outside: parts.outside && outerBasis(parts.outside, scale, n, kernels),
    rows: rows.value.rows,
    inertance: cavity?.aperture?.inertance ?? new Float64Array(0),
    residual: residual.value,
  };
  return done({ system, top, backLift: backLift(body) });
}

function partsFault(parts: StructureParts): ReturnType<typeof failed> | null {
  const { body, crowns, cavity, outside, strings, neck } = parts;
  const c = crowns.length;
  const p = body.rigidCount + body.count;
  const pointCount = body.points.length / (6 * p);
  if (c === 0) return failed("crowns-missing", "no crown: the strings have nowhere to act");
  if (pointCount < (strings ? 2 : 1) * c || body.pointResidual.length !== 36 * pointCount ** 2)
    return failed(
      "points-missing",
      `${pointCount} points of the body for ${c} crowns${strings ? " and nuts" : ""}`,
    );
  for (let i = 0; i < body.count; i++) {
    if (!(body.loss[i * body.count + i] >= 0))
      return failed("loss-negative", `mode ${i + 1} of the structure gains energy`);
  }
  const volume = cavity?.volume.findIndex((v) => !(v > 0)) ?? -1;
  if (volume >= 0)
    return failed(
      "cavity-volume",
      `mode ${volume} of the cavity has the volume ${cavity?.volume[volume]} m3`,
    );
  const a = cavity?.aperture?.count ?? 0;
  const expected: (readonly [string, number, number])[] = [];
  if (neck) expected.push(["the neck's stations", neck.motion.length, 3 * p * neck.x.length]);
  if (cavity) {
    expected.push(["the cavity's wall coupling", cavity.wall.length, p * cavity.count]);
    expected.push(["the cavity's residual mass", cavity.residual.length, (p + a) ** 2]);
  }
  if (outside) expected.push(["the outer air's coordinates", outside.count, p + a]);
  for (const [what, found, wanted] of expected)
    if (found !== wanted) return failed("table-size", `${what}: ${found} where ${wanted} are needed`);
  return null;
}

function addStructure(
  parts: StructureParts,
  stiffness: Float64Array,
  mass: Float64Array,
  wood: Float64Array,
  n: number,
): void {
  const { body, matrices } = parts;
  const { rigidCount: r, count } = body;
  const p = r + count;
  for (let i = 0; i < p; i++) {
    for (let j = 0; j < p; j++) {
      if (matrices) {
        stiffness[i * n + j] = matrices.stiffness[i * p + j];
        mass[i * n + j] = matrices.mass[i * p + j];
      }
      if (i >= r && j >= r) wood[i * n + j] = body.loss[(i - r) * count + j - r];
    }
    if (matrices) continue;
    mass[i * n + i] = 1;
    if (i >= r) stiffness[i * n + i] = body.omega[i - r] ** 2;
  }
}

function cavityLaws(cavity: CavityAir, p: number, n: number): CavityLaws {
  const { count, air, aperture } = cavity;
  const a = aperture?.count ?? 0;
  const stiffness = cavity.volume.map((v) => (air.density * air.soundSpeed ** 2) / v);
  const strain = new Float64Array(count * n);
  const flow = new Float64Array(count * n);
  for (let k = 0; k < count; k++) {
    for (let i = 0; i < p; i++) strain[k * n + i] = -cavity.wall[i * count + k];
    for (let i = 0; i < a; i++) strain[k * n + p + i] = -(aperture?.coupling[i * count + k] ?? 0);
    if (k === 0) continue;
    invariant(cavity.omega[k] > 0, () => `cavity mode ${k} has the frequency ${cavity.omega[k]}`);
    strain[k * n + p + a + k - 1] = 1;
    flow[k * n + p + a + k - 1] = 1;
  }
  return {
    count,
    stiffness,
    inertia: stiffness.map((s, k) => (k === 0 ? 0 : s / cavity.omega[k] ** 2)),
    heat: cavity.heat,
    friction: cavity.friction,
    leak: cavity.leak,
    strain,
    flow,
    rub: rubRows(aperture?.viscous ?? new Float64Array(0), a, p, n),
  };
}

/** viscous = sum g g' with g the rows of its triangular factor, in order of the greatest pivot; a vanishing rest is left out. */
function rubRows(viscous: Float64Array, a: number, p: number, n: number): Float64Array {
  const left = viscous.slice();
  const rows: Float64Array[] = [];
  const whole = Math.max(0, ...Array.from({ length: a }, (_, i) => left[i * a + i]));
  for (let step = 0; step < a; step++) {
    let at = 0;
    for (let i = 1; i < a; i++) if (left[i * a + i] > left[at * a + at]) at = i;
    const pivot = left[at * a + at];
    if (!(pivot > 1e-12 * whole)) break;
    const g = Float64Array.from({ length: a }, (_, i) => left[at * a + i] / Math.sqrt(pivot));
    for (let i = 0; i < a; i++) for (let j = 0; j < a; j++) left[i * a + j] -= g[i] * g[j];
    const row = new Float64Array(n);
    row.set(g, p);
    rows.push(row);
  }
  const out = new Float64Array(rows.length * n);
  rows.forEach((row, i) => {
    out.set(row, i * n);
  });
  return out;
}

/** m += factor row row'. */
function addSquare(m: Float64Array, row: Float64Array, factor: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const f = factor * row[i];
    if (f === 0) continue;
    for (let j = 0; j < n; j++) m[i * n + j] += f * row[j];
  }
}

/** Adds a size x size table to the leading block, but for what couples coordinates from `skip` on among themselves. */
function addLeading(m: Float64Array, table: Float64Array, n: number, size: number, skip: number): void {
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      if (i < skip || j < skip) m[i * n + j] += table[i * size + j];
    }
  }
}
