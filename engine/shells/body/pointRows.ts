import { planLocator } from "#engine/meshing";
import { done, failed, type Outcome } from "#engine/numerics";
import { nearestNode } from "./bodyLayout.ts";
import type { BodySystem, PointRows, SpringTerm } from "./bodyModel.ts";
import type { PointRef, Triple } from "./bodySpec.ts";
import { rowsOfMotions } from "./motionRows.ts";

type Part = Pick<BodySystem, "spec" | "mesh" | "layout">;
/** Nodes that carry a point, with weights adding to 1 and the arm from each to the point. */
interface Placed {
  readonly at: Triple;
  readonly carriers: readonly { readonly node: number; readonly weight: number; readonly arm: Triple }[];
}

/**
 * Six sparse rows by point (ux uy uz rx ry rz). On a plate the point moves with its triangle (motions linear in it) and
 * its height on a rigid arm along the normal; on the neck with the two nearest stations; on side or block rigidly.
 * Fails: 'point-outside', naming the point's part.
 */
export function pointRows(system: Part, points: readonly PointRef[]): Outcome<PointRows> {
  const placed = placedPoints(system, points);
  return placed.ok ? done(rowsOf(system, placed.value)) : placed;
}

function rowsOf(system: Part, placed: readonly Placed[]): PointRows {
  const sums: [number, number][][] = [];
  for (const { carriers } of placed) {
    for (let q = 0; q < 6; q++) {
      const sum: [number, number][] = [];
      for (const { node, weight, arm } of carriers) {
        sum.push([6 * node + q, weight]);
        if (q < 3) {
          const a = (q + 1) % 3;
          const b = (q + 2) % 3;
          sum.push([6 * node + 3 + a, weight * arm[b]], [6 * node + 3 + b, -weight * arm[a]]);
        }
      }
      sums.push(sum);
    }
  }
  return rowsOfMotions(system.layout.map, sums);
}

/** The springs as rank-one terms: stretch = d . (u_b - u_a), d from a to b. Fails as `pointRows` does. */
export function springTerms(system: Part): Outcome<SpringTerm[]> {
  const { springs } = system.spec;
  const placed = placedPoints(
    system,
    springs.flatMap(({ a, b }) => [a, b]),
  );
  if (!placed.ok) return placed;
  const rows = rowsOf(system, placed.value);
  const terms: SpringTerm[] = [];
  for (const [s, { stiffness }] of springs.entries()) {
    const [from, to] = [placed.value[2 * s].at, placed.value[2 * s + 1].at];
    const d = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
    const length = Math.hypot(d[0], d[1], d[2]);
    if (!(length > 0)) return failed("spring-length", "a string's two ends are one place");
    const gathered = new Map<number, number>();
    for (let end = 0; end < 2; end++) {
      const sign = end === 0 ? -1 : 1;
      for (let q = 0; q < 3; q++) {
        const k = 6 * (2 * s + end) + q;
        for (let p = rows.start[k]; p < rows.start[k + 1]; p++) {
          const r = rows.row[p];
          gathered.set(r, (gathered.get(r) ?? 0) + (sign * d[q] * rows.weight[p]) / length);
        }
      }
    }
    terms.push({
      stiffness,
      row: Uint32Array.from(gathered.keys()),
      weight: Float64Array.from(gathered.values()),
    });
  }
  return done(terms);
}

function placedPoints(system: Part, points: readonly PointRef[]): Outcome<Placed[]> {
  const locators = plateLocators(system);
  const out: Placed[] = [];
  for (const point of points) {
    const placed = place(system, point, locators);
    if (!placed.ok) return placed;
    out.push(placed.value);
  }
  return done(out);
}

type Locate = ReturnType<typeof planLocator>;
interface Locators {
  readonly top: () => Locate | null;
  readonly back: () => Locate | null;
}

function plateLocators({ mesh }: Part): Locators {
  const made = new Map<"top" | "back", Locate>();
  const of = (which: "top" | "back"): Locate | null => {
    const plate = mesh[which];
    if (plate === null) return null;
    const known = made.get(which) ?? planLocator(plate.plan);
    made.set(which, known);
    return known;
  };
  return { top: () => of("top"), back: () => of("back") };
}

function place(system: Part, point: PointRef, locators: Locators): Outcome<Placed> {
  const { layout, mesh } = system;
  const p = layout.places;
  const rigid = (node: number, at: Triple): Placed => ({
    at,
    carriers: [
      { node, weight: 1, arm: [at[0] - p[3 * node], at[1] - p[3 * node + 1], at[2] - p[3 * node + 2]] },
    ],
  });
  if (point.part === "block") {
    const b = system.spec.blocks.findIndex((box) => box.name === point.name);
    if (b < 0) return failed("point-outside", `there is no block "${point.name}" to carry a point`);
    return done(rigid(layout.blockNode[b], point.at));
  }
  if (point.part === "side") {
    if (mesh.sideRings.length === 0) return failed("point-outside", "there are no sides to carry a point");
    return done(rigid(nearestNode(mesh.surface.nodes, point.at), point.at));
  }
  if (point.part === "neck") return onNeck(layout.neckNode, p, point.at);
  const plate = mesh[point.part];
  const locate = locators[point.part]();
  const found = locate === null ? null : locate(point.x, point.y);
  if (plate === null || found === null)
    return failed("point-outside", `the point (${point.x}, ${point.y}) m is not on the ${point.part}`);
  const body = point.part === "top" ? mesh.topNode : mesh.backNode;
  const corners = [0, 1, 2].map((c) => body[plate.triangles[3 * found.triangle + c]]);
  const corner = (c: number): Float64Array => p.subarray(3 * corners[c], 3 * corners[c] + 3);
  const u = [0, 1, 2].map((k) => corner(1)[k] - corner(0)[k]);
  const v = [0, 1, 2].map((k) => corner(2)[k] - corner(0)[k]);
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  // the back's plan triangles run clockwise seen from outside
  const scale = (point.part === "top" ? point.height : -point.height) / Math.hypot(n[0], n[1], n[2]);
  const arm: Triple = [n[0] * scale, n[1] * scale, n[2] * scale];
  const at = [0, 1, 2].map(
    (k) => arm[k] + found.barycentric.reduce((sum, w, c) => sum + w * corner(c)[k], 0),
  );
  return done({
    at: [at[0], at[1], at[2]],
    carriers: corners.map((node, c) => ({ node, weight: found.barycentric[c], arm })),
  });
}

/** Between the two stations beside the point's foot on the neck's axis; beyond its ends with the last one. */
function onNeck(chain: Uint32Array, p: Float64Array, at: Triple): Outcome<Placed> {
  if (chain.length === 0) return failed("point-outside", "there is no neck to carry a point");
  let least = Number.POSITIVE_INFINITY;
  let best: { k: number; t: number } = { k: 0, t: 0 };
  for (let k = 0; k + 1 < chain.length; k++) {
    const a = p.subarray(3 * chain[k], 3 * chain[k] + 3);
    const b = p.subarray(3 * chain[k + 1], 3 * chain[k + 1] + 3);
    const d = [0, 1, 2].map((q) => b[q] - a[q]);
    const along = d.reduce((sum, v, q) => sum + v * (at[q] - a[q]), 0) / d.reduce((sum, v) => sum + v * v, 0);
    const t = Math.min(1, Math.max(0, along));
    const away = d.reduce((sum, v, q) => sum + (at[q] - a[q] - t * v) ** 2, 0);
    if (away < least) {
      least = away;
      best = { k, t };
    }
  }
  const carriers = [
    { node: chain[best.k], weight: 1 - best.t },
    { node: chain[best.k + 1], weight: best.t },
  ]
    .filter(({ weight }) => weight > 0)
    .map(({ node, weight }) => ({
      node,
      weight,
      arm: [at[0] - p[3 * node], at[1] - p[3 * node + 1], at[2] - p[3 * node + 2]] as const,
    }));
  return done({ at, carriers });
}
