import { done, type Outcome } from "#engine/numerics";
import type { CavityMesh } from "./cavityMesh.ts";
import type { CavityAperture } from "./cavityRecords.ts";
import type { CavitySpec } from "./cavitySpec.ts";
import { flangedField } from "./flangedField.ts";
import { openingLoads } from "./openingLoads.ts";
import { type OpeningPanels, openingPanels } from "./openingPanels.ts";
import { patternBasis, patternsOf } from "./openingPatterns.ts";
import { evenFlow, openingPotential } from "./openingPotential.ts";
import { addRows, rowProducts } from "./rowProducts.ts";
import { modeCoupling, type StaticField, takeListed } from "./staticField.ts";
import { wallPlug } from "./wallPlug.ts";

/** Patterns kept at most. */
const PATTERNS = 6;
/** Panels round the edge and from edge to ridge: those used, and coarser ones to extrapolate the conductance from. */
const PANELS = [24, 6] as const;
const COARSER = [16, 4] as const;
/** End correction without a flange over that of an endless one, at low frequency (DALMONT-2001). */
const NO_FLANGE = 0.6133 / 0.8216;

/**
 * The opening as a few patterns of flow and their inertances.
 *
 * inner   rho [ P + (elements) ] of `flangedField`, less what the listed modes n >= 1 give of it
 * wall    the air in the wall, evened out as it passes: see `wallPlug`
 * outer   rho P: an endless flange; the real body's is told by `withOuterEnd`
 *
 * P has the conductance at even potential that two runs extrapolate to: see `edgedPotential`.
 * Even potential and even velocity are nowhere mixed: the first pattern is the flow that an even pressure drives through
 * inner field, wall and outer field together.
 * viscous: sqrt(eta rho/2) (h + 2a)/S2 along the free edge, weighted by the square of the pattern's flow there over that
 * of the first one; P (h + 2a)/S2 for the first as in INGARD-1953 (from memory), P the edge's length, a = sqrt(S/pi).
 */
export function cavityAperture(
  spec: CavitySpec,
  mesh: CavityMesh,
  still: StaticField,
): Outcome<CavityAperture | null> {
  const { opening } = mesh.plan;
  if (opening === null) return done(null);
  const bent = opening.scooped !== null && spec.hole !== null && spec.hole.scoop.height > 0;
  const panels = openingPanels(spec, opening, ...PANELS);
  const edged = edgedPotential(panels, openingPanels(spec, opening, ...COARSER));
  if (!edged.ok) return edged;
  const potential = edged.value;
  const filled = wallPlug(panels);
  if (!filled.ok) return filled;
  const basis = patternBasis(panels, potential, filled.value, bent);
  if (!basis.ok) return basis;
  const members = basis.value.count;
  const { flows } = basis.value;
  const { n, volume, lambda } = still.field;
  const load = openingLoads(mesh, panels, flows);
  const flanged = flangedField(mesh, panels, flows, volume);
  const coupling = modeCoupling(still.field, load);
  const flangedCoupling = modeCoupling(still.field, flanged.loads);
  const onOpening = rowProducts(still.solve(flanged.loads, members), load, n);
  takeListed(onOpening, still.field, flangedCoupling, coupling);
  const modes = lambda.length;
  const end = quadratic(flows, members, (f) => product(potential, f));
  const plug = quadratic(flows, members, (f) => product(filled.value, f));
  const smooth = new Float64Array(members * members);
  const listed = new Float64Array(members * members);
  for (let a = 0; a < members; a++) {
    for (let b = 0; b < members; b++) {
      let sum = onOpening[a * members + b] - flanged.mean[a] * coupling[b * modes];
      for (let m = 1; m < modes; m++) {
        const [own, other] = [coupling[a * modes + m], coupling[b * modes + m]];
        sum += (other * flangedCoupling[a * modes + m]) / (volume * lambda[m]);
        listed[a * members + b] += (own * other) / (volume * lambda[m]);
      }
      smooth[a * members + b] += sum / 2;
      smooth[b * members + a] += sum / 2;
    }
  }
  const { density, viscosity } = spec.air;
  const total = end.map((v, i) => density * (2 * v + plug[i] + smooth[i]));
  const patterns = patternsOf(basis.value, panels.count, total, PATTERNS);
  if (!patterns.ok) return patterns;
  const c = patterns.value;
  const onto = (m: Float64Array) => congruent(c, m, members).map((v) => density * v);
  const inner = onto(end.map((v, i) => v + smooth[i] - listed[i]));
  const wall = onto(plug);
  const outer = onto(end);
  const flow = rowsTimes(c, flows, members);
  return done({
    count: c.length / members,
    corners: panels.corners,
    centroids: panels.centroids,
    normals: panels.normals,
    areas: panels.areas,
    flow,
    loads: rowsTimes(c, load, members),
    coupling: rowsTimes(c, coupling, members),
    inner,
    wall,
    outer,
    inertance: sumOf(inner, wall, outer),
    range: {
      low: sumOf(
        inner,
        wall,
        outer.map((v) => NO_FLANGE * v),
      ),
      high: sumOf(inner, wall, outer),
    },
    viscous: edgeResistance(panels, flow, Math.sqrt((viscosity * density) / 2)),
  });
}

/**
 * P with the conductance at even potential that two runs extrapolate to. What the panels lack is the crowding of the flow
 * within those along the edge, which they take for even there: it makes them too heavy, so their own share is lowered. A
 * flow that does not crowd at the edge is left as it is.
 */
function edgedPotential(panels: OpeningPanels, coarser: OpeningPanels): Outcome<Float64Array> {
  const { count: n, edge } = panels;
  const potential = openingPotential(panels);
  const fine = evenFlow(potential, n);
  if (!fine.ok) return fine;
  const coarse = evenFlow(openingPotential(coarser), coarser.count);
  if (!coarse.ok) return coarse;
  const sum = (f: Float64Array) => f.reduce((total, v) => total + v, 0);
  const [f, c] = [sum(fine.value), sum(coarse.value)];
  const lacking = (f - c) / ((PANELS[1] / COARSER[1]) ** 2 - 1);
  let share = 0;
  for (let p = 0; p < n; p++) if (edge[p] > 0) share += potential[p * n + p] * fine.value[p] ** 2;
  for (let p = 0; p < n; p++) if (edge[p] > 0) potential[p * n + p] *= 1 - lacking / share;
  return done(potential);
}

/** y = A x for a dense symmetric A. */
function product(a: Float64Array, x: Float64Array): Float64Array {
  const n = x.length;
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += a[i * n + j] * x[j];
    out[i] = sum;
  }
  return out;
}

/** rows' A rows, rows x rows. */
function quadratic(
  rows: Float64Array,
  count: number,
  apply: (x: Float64Array) => Float64Array,
): Float64Array {
  const n = rows.length / count;
  const out = new Float64Array(count * count);
  for (let a = 0; a < count; a++) {
    const image = apply(rows.slice(a * n, a * n + n));
    for (let b = 0; b < count; b++) {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += rows[b * n + i] * image[i];
      out[a * count + b] = sum;
    }
  }
  return out;
}

/** C M C', C patterns x members. */
function congruent(c: Float64Array, m: Float64Array, members: number): Float64Array {
  const half = rowsTimes(c, m, members);
  const count = c.length / members;
  const out = new Float64Array(count * count);
  for (let a = 0; a < count; a++)
    for (let b = 0; b < count; b++)
      for (let j = 0; j < members; j++) out[a * count + b] += half[a * members + j] * c[b * members + j];
  return out;
}

/** C X: rows of X (members x width) combined. */
function rowsTimes(c: Float64Array, x: Float64Array, members: number): Float64Array {
  const width = x.length / members;
  const out = new Float64Array((c.length / members) * width);
  addRows(out, c, x, width);
  return out;
}

function sumOf(...matrices: readonly Float64Array[]): Float64Array {
  return matrices[0].map((_, i) => matrices.reduce((sum, m) => sum + m[i], 0));
}

/** patterns x patterns, see `cavityAperture`. */
function edgeResistance(panels: OpeningPanels, flow: Float64Array, coefficient: number): Float64Array {
  const n = panels.count;
  const count = flow.length / n;
  const area = panels.areas.reduce((sum, a) => sum + a, 0) * panels.areaRatio;
  const radius = Math.sqrt(area / Math.PI);
  const out = new Float64Array(count * count);
  for (let p = 0; p < n; p++) {
    if (panels.edge[p] === 0) continue;
    const weight =
      (coefficient * panels.edge[p] * (panels.wall[p] + 2 * radius)) / (area * area * flow[p] ** 2);
    for (let a = 0; a < count; a++)
      for (let b = 0; b < count; b++) out[a * count + b] += weight * flow[a * n + p] * flow[b * n + p];
  }
  return out;
}
