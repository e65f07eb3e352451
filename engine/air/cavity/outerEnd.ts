import { invariant } from "#engine/numerics";
import type { CavityAperture, CavityModes } from "./cavityRecords.ts";
import { solidAngle } from "./solidAngle.ts";

/** A closed surface of the body's outside: x, y, z by node; 3 nodes by triangle, anticlockwise seen from outside. */
export interface OuterSurface {
  readonly nodes: Float64Array;
  readonly triangles: Uint32Array;
  /** By triangle: 3 in the opening. */
  readonly part: Uint8Array;
}

/** Share of the outer end that the coarse surface may leave uncertain (engineering judgement). */
const UNCERTAIN = 0.03;
/** Rise over distance below which a triangle counts as lying in a panel's plane: domes stay below it. */
const IN_PLANE = 0.1;

/**
 * Normal velocities (A x triangles) by which the real body's surface stops what each pattern, as under an endless flange,
 * would send through it: minus flow x solid angle/(2 pi area), for every panel and every triangle out of its plane. The
 * outer air's answer to them is smooth at the opening, so a coarse surface will do: see `withOuterEnd`.
 */
export function stoppedFlow(aperture: CavityAperture, surface: OuterSurface): Float64Array {
  const { nodes, triangles } = surface;
  const { count, flow } = aperture;
  const from = onOuterFace(aperture, surface);
  const panels = from.length / 3;
  const total = triangles.length / 3;
  const out = new Float64Array(count * total);
  const seen = new Float64Array(panels);
  for (let t = 0; t < total; t++) {
    const a = 3 * triangles[3 * t];
    const b = 3 * triangles[3 * t + 1];
    const c = 3 * triangles[3 * t + 2];
    const ux = nodes[b] - nodes[a];
    const uy = nodes[b + 1] - nodes[a + 1];
    const uz = nodes[b + 2] - nodes[a + 2];
    const vx = nodes[c] - nodes[a];
    const vy = nodes[c + 1] - nodes[a + 1];
    const vz = nodes[c + 2] - nodes[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    for (let p = 0; p < panels; p++) {
      const ax = nodes[a] - from[3 * p];
      const ay = nodes[a + 1] - from[3 * p + 1];
      const az = nodes[a + 2] - from[3 * p + 2];
      const mx = ax + (ux + vx) / 3;
      const my = ay + (uy + vy) / 3;
      const mz = az + (uz + vz) / 3;
      const distance = Math.sqrt(mx * mx + my * my + mz * mz);
      const rise = (mx * nx + my * ny + mz * nz) / (twice * distance);
      seen[p] =
        Math.abs(rise) < IN_PLANE
          ? 0
          : solidAngle(ax, ay, az, ax + ux, ay + uy, az + uz, ax + vx, ay + vy, az + vz);
    }
    for (let k = 0; k < count; k++) {
      let sum = 0;
      for (let p = 0; p < panels; p++) sum += flow[k * panels + p] * seen[p];
      out[k * total + t] = -sum / (Math.PI * twice);
    }
  }
  return out;
}

/** Middles of the panels moved along their normals into the plane of the surface's nearest triangle of the opening. */
function onOuterFace({ centroids, normals }: CavityAperture, surface: OuterSurface): Float64Array {
  const { nodes, triangles, part } = surface;
  const corner = (t: number, k: number, d: number) => nodes[3 * triangles[3 * t + k] + d];
  const own = Array.from(part.keys()).filter((t) => part[t] === 3);
  const planes = own.map((t) => {
    const u = [0, 1, 2].map((d) => corner(t, 1, d) - corner(t, 0, d));
    const v = [0, 1, 2].map((d) => corner(t, 2, d) - corner(t, 0, d));
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const middle = [0, 1, 2].map((d) => (corner(t, 0, d) + corner(t, 1, d) + corner(t, 2, d)) / 3);
    return { n: n.map((x) => x / Math.hypot(...n)), middle };
  });
  const out = centroids.slice();
  for (let p = 0; 3 * p < out.length; p++) {
    let least = Number.POSITIVE_INFINITY;
    let shift = 0;
    for (const { n, middle } of planes) {
      const along = [0, 1, 2].reduce((sum, d) => sum + n[d] * normals[3 * p + d], 0);
      const off = [0, 1, 2].map((d) => middle[d] - centroids[3 * p + d]);
      // The hole's panels belong to the top's part of the opening, those of a scooped side to the side's.
      if (along < 0.7 || Math.hypot(...off) >= least) continue;
      least = Math.hypot(...off);
      shift = [0, 1, 2].reduce((sum, d) => sum + n[d] * off[d], 0) / along;
    }
    for (let d = 0; d < 3; d++) out[3 * p + d] += shift * normals[3 * p + d];
  }
  return out;
}

/**
 * The cavity with the outer end of its opening on the real body instead of under an endless flange. `mass` (A x A, kg/m4):
 * low-frequency mass of the outer air between the velocities of `stoppedFlow` (rows) and the patterns themselves on that
 * surface (columns, `apertureFlows`):  outer = rho P + mass.  The range narrows to 3 % of the outer end either way.
 */
export function withOuterEnd(cavity: CavityModes, mass: Float64Array): CavityModes {
  const { aperture } = cavity;
  invariant(aperture !== null, () => "a closed box has no outer end");
  const { count, inner, wall } = aperture;
  const outer = aperture.outer.map((v, i) => {
    const [a, b] = [Math.floor(i / count), i % count];
    return v + (mass[a * count + b] + mass[b * count + a]) / 2;
  });
  const total = (share: number) => outer.map((v, i) => inner[i] + wall[i] + share * v);
  return {
    ...cavity,
    aperture: {
      ...aperture,
      outer,
      inertance: total(1),
      range: { low: total(1 - UNCERTAIN), high: total(1 + UNCERTAIN) },
    },
  };
}
