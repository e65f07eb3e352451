import { heldEvenly, heldSum, type Laminate, turnedGrowth } from "./laminate.ts";
import type { Side } from "./panel.ts";

/** A strip of the plate under a rib: what it adds across itself. */
export interface Footprint {
  /** Direction of the rib in plan, rad from +x. */ readonly angle: number;
  /** Depth of the rib's wood that takes part across it, m, and its modulus, Pa. */ readonly depth: number;
  readonly ET: number;
  readonly lossT: number;
  readonly side: Side;
  readonly plateThickness: number;
  /** Growth of the rib across itself, 0 where nothing grows. */
  readonly growth: number;
}

/**
 * Laminate of an element of which the fraction `f` lies under a rib that stiffens it across (direction b) only.
 *
 * The strip and the bare plate lie in series across the rib: force Nb and moment Mb are the same in both, the other
 * strains are the same in both. Minimising the energy over the share of (eb, kb) gives, with M = (A, B, D)bb of the
 * bare plate and G = ET [h, hz; hz, hzz] of the layer about the plate's mid-surface,
 *   C = C0 + P' f G (M + (1 - f) G)^-1 M P,     P: strains -> (eb, kb).
 * The loss matrix takes the derivative of that expression (first order), Im C0 entering through M.
 */
export function withFootprint(l: Laminate, f: number, strip: Footprint): Laminate {
  const c = -Math.sin(strip.angle);
  const s = Math.cos(strip.angle);
  const sign = strip.side === "inside" ? -1 : 1;
  const bottom = strip.plateThickness / 2;
  const top = bottom + strip.depth;
  const g = [
    strip.ET * (top - bottom),
    (sign * strip.ET * (top ** 2 - bottom ** 2)) / 2,
    (strip.ET * (top ** 3 - bottom ** 3)) / 3,
  ] as const;
  // strain of a unit eb: [c2, s2, 2cs]; eb of a strain: the same functional on tensor components, cs on gxy
  const q = [c * c, s * s, 2 * c * s] as const;
  const p = [c * c, s * s, c * s] as const;
  const m = across(l.stiffness, q);
  const dm = across(l.loss, q);
  // G H M with H = (M + r G)^-1: its derivative is dG H M + G H dM - G H (dM + r dG) H M
  const r = 1 - f;
  const h = inverse([m[0] + r * g[0], m[1] + r * g[1], m[2] + r * g[2]]);
  const gh = product(full(g), h);
  const hm = product(h, full(m));
  const real = product(gh, full(m));
  const dg = full([strip.lossT * g[0], strip.lossT * g[1], strip.lossT * g[2]]);
  const sum = full([dm[0] + r * dg[0], dm[1] + r * dg[1], dm[2] + r * dg[3]]);
  const a = product(dg, hm);
  const b = product(gh, full(dm));
  const d = product(product(gh, sum), hm);
  const stiffness = l.stiffness.slice();
  const loss = l.loss.slice();
  for (let i = 0; i < 2; i++) {
    for (let j = 0; j < 2; j++) {
      const k = 2 * i + j;
      for (let row = 0; row < 3; row++) {
        for (let col = 0; col < 3; col++) {
          const at = 8 * (3 * i + row) + 3 * j + col;
          stiffness[at] += f * real[k] * p[row] * p[col];
          loss[at] += f * (a[k] + b[k] - d[k]) * p[row] * p[col];
        }
      }
    }
  }
  return { stiffness, loss, inertia: l.inertia, held: grownAcross(l, stiffness, strip) };
}

/** What the rib's own growth across itself adds to the forces of held growth: its share of the stiffness times that strain. */
function grownAcross(
  l: Laminate,
  stiffness: Float64Array,
  { growth, angle }: Footprint,
): Float64Array | null {
  if (growth === 0) return l.held;
  const strain = turnedGrowth({ along: 0, across: growth }, angle);
  const added = stiffness.map((value, k) => value - l.stiffness[k]);
  return heldSum(l.held, heldEvenly(added, strain), 1);
}

type Three = readonly [number, number, number];

/** Entries q' A q, q' B q, q' D q of a laminate matrix. */
function across(a: Float64Array, q: Three): Three {
  const sums: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const f = q[i] * q[j];
      const at = 8 * i + j;
      sums[0] += f * a[at];
      sums[1] += f * a[at + 3];
      sums[2] += f * a[at + 27];
    }
  }
  return sums;
}

type Square = readonly [number, number, number, number];
const full = (s: Three): Square => [s[0], s[1], s[1], s[2]];
const product = (a: Square, b: Square): Square => [
  a[0] * b[0] + a[1] * b[2],
  a[0] * b[1] + a[1] * b[3],
  a[2] * b[0] + a[3] * b[2],
  a[2] * b[1] + a[3] * b[3],
];
function inverse(s: Three): Square {
  const det = s[0] * s[2] - s[1] * s[1];
  return [s[2] / det, -s[1] / det, -s[1] / det, s[0] / det];
}
