import type { Polygon } from "#engine/geometry";
import { planLocator } from "#engine/meshing";
import { done, factorize, failed, type Outcome, solveFactored } from "#engine/numerics";
import type { PanelSystem } from "./panelSystem.ts";
import { clippedPolygon, triangleOverlap } from "./triangleOverlap.ts";

type Place = readonly [x: number, y: number];

/** A load spread uniformly over a plan polygon: total force (N) and total couple (N m) at the mid-surface. */
export interface PanelLoad {
  readonly polygon: Polygon;
  readonly force: readonly [x: number, y: number, z: number];
  readonly couple: readonly [x: number, y: number, z: number];
}

export interface StaticResult {
  /** 6 by node. */
  readonly motion: Float64Array;
  /** 6 by asked point. */
  readonly points: Float64Array;
  /** Strain energy, half the work of the loads, J. */
  readonly energy: number;
}

/** Displacements under loads acting together; fails as `panelStaticCases` does. */
export function panelStatic(
  system: PanelSystem,
  loads: readonly PanelLoad[],
  points: readonly Place[],
): Outcome<StaticResult> {
  const solved = panelStaticCases(system, [loads], points);
  return solved.ok ? done(solved.value[0]) : solved;
}

/**
 * Displacements under each of the load cases (each a set of loads) on one factorisation.
 * Fails: 'load-outside' / 'point-outside' if a load or a point misses the plate, 'not-positive-definite' if the edge
 * does not hold the panel.
 */
export function panelStaticCases(
  system: PanelSystem,
  cases: readonly (readonly PanelLoad[])[],
  points: readonly Place[],
): Outcome<readonly StaticResult[]> {
  const { dof, stiffness: k } = system;
  const places = placed(system, points);
  if (!places.ok) return places;
  const b = new Float64Array(k.n * cases.length);
  for (const [c, loads] of cases.entries()) {
    for (const load of loads) {
      if (!addLoad(system, load, b.subarray(c * k.n, (c + 1) * k.n))) {
        return failed("load-outside", "a load's polygon does not meet the plate");
      }
    }
  }
  const factor = factorize(k, { group: system.group });
  if (!factor.ok) return factor;
  const x = solveFactored(factor.value, b, cases.length);
  return done(
    cases.map((_, c) => {
      const motion = Float64Array.from(dof, (d) => (d < 0 ? 0 : x[c * k.n + d]));
      const at = new Float64Array(6 * points.length);
      for (const [p, place] of places.value.entries()) {
        for (const { node, weight } of place)
          for (let m = 0; m < 6; m++) at[6 * p + m] += weight * motion[6 * node + m];
      }
      let energy = 0;
      for (let i = c * k.n; i < (c + 1) * k.n; i++) energy += (x[i] * b[i]) / 2;
      return { motion, points: at, energy };
    }),
  );
}

function placed(
  system: PanelSystem,
  points: readonly Place[],
): Outcome<{ node: number; weight: number }[][]> {
  const at = planLocator(system.mesh.plan);
  const places: { node: number; weight: number }[][] = [];
  for (const [x, y] of points) {
    const place = at(x, y);
    if (place === null) return failed("point-outside", `the point (${x}, ${y}) m is not on the plate`);
    places.push(
      place.barycentric.map((weight, c) => ({ node: system.mesh.triangles[3 * place.triangle + c], weight })),
    );
  }
  return done(places);
}

/** Share of a polygon in each triangle it meets, with the weights of the triangle's corners (m2, adding to the share). */
export function polygonShares(
  system: Pick<PanelSystem, "mesh">,
  polygon: Polygon,
): readonly { readonly triangle: number; readonly weights: readonly [number, number, number] }[] {
  const { plan } = system.mesh;
  const p = new Float64Array(6);
  const shares: { triangle: number; weights: readonly [number, number, number] }[] = [];
  for (let t = 0; t < plan.triangles.length / 3; t++) {
    for (let c = 0; c < 3; c++) {
      p[2 * c] = plan.nodes[2 * plan.triangles[3 * t + c]];
      p[2 * c + 1] = plan.nodes[2 * plan.triangles[3 * t + c] + 1];
    }
    const [area, mx, my] = triangleOverlap(polygon, p);
    if (area === 0) continue;
    // barycentric weights are linear: their integral is the area times their value at the centroid
    const twice = (p[2] - p[0]) * (p[5] - p[1]) - (p[4] - p[0]) * (p[3] - p[1]);
    const weight = (i: number): number => {
      const [a, b] = [(2 * i + 2) % 6, (2 * i + 4) % 6];
      return (
        (area * (p[a] * p[b + 1] - p[b] * p[a + 1]) + mx * (p[a + 1] - p[b + 1]) + my * (p[b] - p[a])) / twice
      );
    };
    shares.push({ triangle: t, weights: [weight(0), weight(1), weight(2)] });
  }
  return shares;
}

/** Adds the load to the right-hand side; false if it misses the plate. The total is the load's whatever is cut off. */
function addLoad(system: PanelSystem, load: PanelLoad, b: Float64Array): boolean {
  const shares = polygonShares(system, load.polygon);
  const area = shares.reduce((s, { weights: w }) => s + w[0] + w[1] + w[2], 0);
  if (!(area > 0)) return false;
  const total = [...load.force, ...load.couple];
  for (const { triangle, weights } of shares) {
    for (let c = 0; c < 3; c++) {
      const node = system.mesh.triangles[3 * triangle + c];
      for (let m = 0; m < 6; m++) {
        const row = system.dof[6 * node + m];
        if (row >= 0) b[row] += (weights[c] / area) * total[m];
      }
    }
  }
  return true;
}

/**
 * Rotation about +y of a plan footprint (a bridge's): minus the slope along x of the area-weighted least-squares plane
 * through uz over it. A plane, because on a slanted bridge x and y go together, and a line against x alone would take part
 * of the rise along the bridge for a turn (a half, on a bridge slanted by 12 degrees). uz is linear in each triangle;
 * integrals exact, also where the mesh does not follow the footprint.
 * `motion`: 6 by node. NaN if the polygon misses the plate.
 */
export function footprintRotation(
  { mesh }: Pick<PanelSystem, "mesh">,
  motion: Float64Array,
  polygon: Polygon,
): number {
  const { plan } = mesh;
  const p = new Float64Array(6);
  // integrals of 1, x, y, z and of the products with x and y
  const sums = { area: 0, x: 0, y: 0, z: 0, xx: 0, xy: 0, yy: 0, xz: 0, yz: 0 };
  for (let t = 0; t < plan.triangles.length; t += 3) {
    for (let c = 0; c < 3; c++) {
      p[2 * c] = plan.nodes[2 * plan.triangles[t + c]];
      p[2 * c + 1] = plan.nodes[2 * plan.triangles[t + c] + 1];
    }
    const part = clippedPolygon(polygon, p);
    if (part.length < 6) continue;
    const rise = (c: number): number => motion[6 * plan.triangles[t + c] + 2];
    const twice = (p[2] - p[0]) * (p[5] - p[1]) - (p[4] - p[0]) * (p[3] - p[1]);
    const z = (i: number): number => {
      const x = part[2 * i] - p[0];
      const y = part[2 * i + 1] - p[1];
      const b = (x * (p[5] - p[1]) - y * (p[4] - p[0])) / twice;
      const c = (y * (p[2] - p[0]) - x * (p[3] - p[1])) / twice;
      return (1 - b - c) * rise(0) + b * rise(1) + c * rise(2);
    };
    for (let i = 1; i < part.length / 2 - 1; i++) {
      const x = [part[0], part[2 * i], part[2 * i + 2]] as const;
      const y = [part[1], part[2 * i + 1], part[2 * i + 3]] as const;
      const zs = [z(0), z(i), z(i + 1)] as const;
      const area = ((x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0])) / 2;
      // of the product of two linear functions: A/12 (sum of products at the corners + product of the sums)
      const product = (a: Three, b: Three): number =>
        (area / 12) * (a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + (a[0] + a[1] + a[2]) * (b[0] + b[1] + b[2]));
      const mean = (a: Three): number => (area / 3) * (a[0] + a[1] + a[2]);
      sums.area += area;
      sums.x += mean(x);
      sums.y += mean(y);
      sums.z += mean(zs);
      sums.xx += product(x, x);
      sums.xy += product(x, y);
      sums.yy += product(y, y);
      sums.xz += product(x, zs);
      sums.yz += product(y, zs);
    }
  }
  const { area, x, y, z } = sums;
  const [xx, xy, yy] = [sums.xx - (x * x) / area, sums.xy - (x * y) / area, sums.yy - (y * y) / area];
  const [xz, yz] = [sums.xz - (x * z) / area, sums.yz - (y * z) / area];
  return -(xz * yy - yz * xy) / (xx * yy - xy * xy);
}

type Three = readonly [number, number, number];
