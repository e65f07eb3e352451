import type { Polygon } from "#engine/geometry";
import { done, failed, type Outcome } from "#engine/numerics";
import { polygonShares } from "../panelStatic.ts";
import type { BodySystem, SpringTerm } from "./bodyModel.ts";
import type { PointRef, Triple } from "./bodySpec.ts";
import { plateHeight } from "./plateMesh.ts";
import { pointRows } from "./pointRows.ts";

/** A force and a couple on a point of the body, N and N m, body frame. */
interface PointLoad {
  readonly kind: "point";
  readonly at: PointRef;
  readonly force: Triple;
  readonly couple: Triple;
}

/** A force at a place in space, carried into the top evenly over a plan polygon (a bridge): force and couple about its middle. */
interface FootprintLoad {
  readonly kind: "footprint";
  readonly polygon: Polygon;
  readonly at: Triple;
  readonly force: Triple;
}

/** Loads on the unknowns themselves (growthLoad.ts). */
interface RowLoad {
  readonly kind: "rows";
  readonly rows: Float64Array;
}

export type BodyLoad = PointLoad | FootprintLoad | RowLoad;

/** One string under tension (N): over the crown, `height` over the top's mid-surface at the plan place, to the nut. */
export interface StringPull {
  readonly crown: { readonly x: number; readonly y: number; readonly height: number };
  readonly nut: Triple;
  readonly tension: number;
}

/** Crown and nut in the body frame, and the unit vector from crown to nut. */
export function stringLine(
  system: BodySystem,
  { crown, nut }: StringPull,
): { readonly from: Triple; readonly to: Triple; readonly along: Triple; readonly length: number } {
  const from: Triple = [crown.x, crown.y, plateHeight(system.spec, "top")(crown.x, crown.y) + crown.height];
  const d = [nut[0] - from[0], nut[1] - from[1], nut[2] - from[2]];
  const length = Math.hypot(d[0], d[1], d[2]);
  return { from, to: nut, along: [d[0] / length, d[1] / length, d[2] / length], length };
}

/**
 * The pull of the strings as loads in equilibrium: each crown is drawn towards its nut, carried in over the bridge's
 * `footprint`, and the nut towards the crown. Pins and break angle are within the bridge and change nothing outside it.
 */
export function stringLoads(
  system: BodySystem,
  strings: readonly StringPull[],
  footprint: Polygon,
): BodyLoad[] {
  return strings.flatMap((one): BodyLoad[] => {
    const { from, to, along } = stringLine(system, one);
    const pull = (sign: number): Triple => [
      sign * one.tension * along[0],
      sign * one.tension * along[1],
      sign * one.tension * along[2],
    ];
    return [
      { kind: "footprint", polygon: footprint, at: from, force: pull(1) },
      { kind: "point", at: { part: "neck", at: to }, force: pull(-1), couple: [0, 0, 0] },
    ];
  });
}

/** Right-hand side by row. Fails as `pointRows` does and with 'load-outside' (the footprint misses the top). */
export function loadRows(system: BodySystem, loads: readonly BodyLoad[]): Outcome<Float64Array> {
  const { layout, mesh } = system;
  const b = new Float64Array(system.n);
  const { start, row, weight } = layout.map;
  const push = (motion: number, value: number): void => {
    for (let p = start[motion]; p < start[motion + 1]; p++) b[row[p]] += weight[p] * value;
  };
  const known = new Map<Polygon, Footprint | null>();
  for (const load of loads) {
    if (load.kind === "rows") {
      load.rows.forEach((value, r) => {
        b[r] += value;
      });
      continue;
    }
    if (load.kind === "point") {
      const rows = pointRows(system, [load.at]);
      if (!rows.ok) return rows;
      [...load.force, ...load.couple].forEach((value, q) => {
        for (let p = rows.value.start[q]; p < rows.value.start[q + 1]; p++)
          b[rows.value.row[p]] += rows.value.weight[p] * value;
      });
      continue;
    }
    const spread = known.get(load.polygon) ?? footprintOf(system, load.polygon);
    known.set(load.polygon, spread);
    if (spread === null || mesh.top === null)
      return failed("load-outside", "the bridge's footprint does not meet the top");
    const [x, y, z] = load.force;
    const r = [0, 1, 2].map((k) => load.at[k] - spread.centre[k]);
    const all = [x, y, z, r[1] * z - r[2] * y, r[2] * x - r[0] * z, r[0] * y - r[1] * x];
    for (const [node, share] of spread.shares) for (let q = 0; q < 6; q++) push(6 * node + q, share * all[q]);
  }
  return done(b);
}

interface Footprint {
  /** Body node and its share of an even load. */
  readonly shares: readonly (readonly [node: number, share: number])[];
  /** Where the resultant of an even load acts. */
  readonly centre: Triple;
}

function footprintOf(system: BodySystem, polygon: Polygon): Footprint | null {
  const { top, topNode } = system.mesh;
  if (top === null) return null;
  const weights = new Map<number, number>();
  for (const { triangle, weights: w } of polygonShares({ mesh: top }, polygon)) {
    for (let c = 0; c < 3; c++) {
      const node = topNode[top.triangles[3 * triangle + c]];
      weights.set(node, (weights.get(node) ?? 0) + w[c]);
    }
  }
  const area = [...weights.values()].reduce((sum, w) => sum + w, 0);
  if (!(area > 0)) return null;
  const shares = [...weights].map(([node, w]) => [node, w / area] as const);
  const p = system.layout.places;
  const mean = (k: number): number => shares.reduce((sum, [node, w]) => sum + w * p[3 * node + k], 0);
  return { shares, centre: [mean(0), mean(1), mean(2)] };
}

/**
 * Strings' own geometric stiffness, T / L across each string both ways, as rank-one terms between crown and nut: with it
 * the loaded body turns as a whole without work. The crown moves rigidly with the top under it. Fails as `pointRows` does.
 */
export function stringTerms(system: BodySystem, strings: readonly StringPull[]): Outcome<SpringTerm[]> {
  const lines = strings.map((one) => stringLine(system, one));
  const rows = pointRows(
    system,
    strings.flatMap(({ crown, nut }): PointRef[] => [
      { part: "top", ...crown },
      { part: "neck", at: nut },
    ]),
  );
  if (!rows.ok) return rows;
  const { start, row, weight } = rows.value;
  const terms: SpringTerm[] = [];
  for (const [s, { along, length }] of lines.entries()) {
    for (const across of squareTo(along)) {
      const gathered = new Map<number, number>();
      for (let q = 0; q < 3; q++) {
        for (const end of [0, 1]) {
          const k = 6 * (2 * s + end) + q;
          for (let p = start[k]; p < start[k + 1]; p++) {
            const w = (end === 0 ? -1 : 1) * across[q] * weight[p];
            gathered.set(row[p], (gathered.get(row[p]) ?? 0) + w);
          }
        }
      }
      terms.push({
        stiffness: strings[s].tension / length,
        row: Uint32Array.from(gathered.keys()),
        weight: Float64Array.from(gathered.values()),
      });
    }
  }
  return done(terms);
}

/** Two unit vectors square to a string and to each other. */
function squareTo(t: Triple): readonly [Triple, Triple] {
  const size = Math.hypot(t[0], t[1]);
  const a: Triple = [-t[1] / size, t[0] / size, 0];
  return [a, [t[1] * a[2] - t[2] * a[1], t[2] * a[0] - t[0] * a[2], t[0] * a[1] - t[1] * a[0]]];
}
