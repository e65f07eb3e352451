import { heldEvenly, heldSum, type Laminate, plyStiffness, turnedGrowth } from "../laminate.ts";
import type { PlyMaterial } from "../panel.ts";
import type { LiningSpec } from "./bodySpec.ts";

/** A lining smeared as a layer: integrals of its stiffness over its height. */
export interface LiningLayer {
  readonly laminate: Laminate;
}

/**
 * The lining under the plate, as a layer over the whole strip from the side's mid-surface to the lining's inner edge.
 *
 * What it stands for: a bar of width w and height h glued to plate and side. Along the edge it has EL (kerfs leave
 * `alongShare`) at its own height under the plate, across it ER: the plate cannot bend over it. Turning with the corner by
 * phi it warps by u = a y z phi' (y from the side, z from the plate), with the energy per length
 *   G phi'^2 / 2  integral of (1 - a)^2 z^2 + (1 + a)^2 y^2  =  G phi'^2 / 2 (w h / 3) [(1 - a)^2 h^2 + (1 + a)^2 w^2],
 * and a plate strip with D66 = GLR h3 / 3 and the shear stiffness GLT h along the edge has the very same (-a y phi' being
 * its own turn beta_x): the torsion 4/3 G w3 h3 / (w2 + h2) of a bar glued on two faces comes out by itself.
 * Across, the two legs of the corner lie in series where the glued bar is sheared once over w x h by the rolling modulus
 * GRT, so each leg has 2 GRT times its depth. Stiffness along and density are spread from w over the strip's width. The
 * mass rides here.
 * Checked on solids: proofs/reference/body-cases-own.
 */
export function plateLining(
  lining: LiningSpec,
  strip: number,
  plateThickness: number,
  angle: number,
): LiningLayer {
  const { width: w, height: h, material: m, alongShare } = lining;
  const spread = w / strip;
  const along = alongShare * spread;
  const top = -plateThickness / 2;
  const z = [h, (top ** 2 - (top - h) ** 2) / 2, (top ** 3 - (top - h) ** 3) / 3] as const;
  // kerfs leave no Poisson's coupling worth the name
  const q = plyStiffness({ ...m, EL: m.EL * along, nuLR: 0, GLR: m.GLR * along }, angle);
  const stiffness = new Float64Array(64);
  const loss = new Float64Array(64);
  for (const [to, plane] of [
    [stiffness, q.re],
    [loss, q.im],
  ] as const) {
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        to[8 * i + j] = plane[3 * i + j] * z[0];
        to[8 * i + 3 + j] = to[8 * (i + 3) + j] = plane[3 * i + j] * z[1];
        to[8 * (i + 3) + 3 + j] = plane[3 * i + j] * z[2];
      }
    }
  }
  addShear(stiffness, loss, m, [warpingShare * m.GLT * along * h, cornerShare * m.GRT * h], angle);
  const centre = top - h / 2;
  const m0 = m.density * h * spread;
  const inertia = [m0, m0 * centre, m0 * (centre ** 2 + h ** 2 / 12)] as const;
  return { laminate: { stiffness, loss, inertia, held: heldIn(m, stiffness, angle) } };
}

/**
 * Share of GLT that works in the lining's layer. Plate and lining share one fibre's turn in a laminate, so the thin plate at the
 * strip's inner edge keeps the lining from warping as freely as it does; how much depends on the mesh. Calibrated on solids
 * (body case b02, edges of 7.5 to 9 mm, one row across the strip): with it the 15 lowest modes lie 1 % low to 4 % high, without
 * it 2 to 6 % high; on edges of 4.5 mm with it 4 % low to 2 % high. A kerfed lining, a sixth as stiff along, feels a sixth of this.
 */
const warpingShare = 0.25;

/** Two legs in series against one bar sheared over both. */
const cornerShare = 2;

/** The lining's leg on the side: stiff across the edge over its width, no stiffness along, no mass (the plate carries both). */
export function sideLining(lining: LiningSpec, sideThickness: number): LiningLayer {
  const { width: w, material: m } = lining;
  const bottom = -sideThickness / 2 - w;
  const top = -sideThickness / 2;
  const h = [w, (top ** 2 - bottom ** 2) / 2, (top ** 3 - bottom ** 3) / 3] as const;
  const stiffness = new Float64Array(64);
  const loss = new Float64Array(64);
  // the side's own axes: x along the edge, y up
  for (let k = 0; k < 2; k++) {
    for (let n = 0; n < 2; n++) {
      stiffness[8 * (1 + 3 * k) + 1 + 3 * n] = m.ER * h[k + n];
      loss[8 * (1 + 3 * k) + 1 + 3 * n] = m.loss.R * m.ER * h[k + n];
    }
  }
  addShear(stiffness, loss, m, [0, cornerShare * m.GRT * w], 0);
  return { laminate: { stiffness, loss, inertia: [0, 0, 0], held: heldIn(m, stiffness, 0) } };
}

function heldIn({ growth }: PlyMaterial, stiffness: Float64Array, angle: number): Float64Array | null {
  return growth === undefined ? null : heldEvenly(stiffness, turnedGrowth(growth, angle));
}

/** Transverse shear stiffness along and across the edge, N/m, in the plate's axes. */
function addShear(
  stiffness: Float64Array,
  loss: Float64Array,
  m: PlyMaterial,
  [along, across]: readonly [number, number],
  angle: number,
): void {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const parts = [
    along * c * c + across * s * s,
    (along - across) * c * s,
    (along - across) * c * s,
    along * s * s + across * c * c,
  ];
  [54, 55, 62, 63].forEach((at, k) => {
    stiffness[at] += parts[k];
    loss[at] += m.loss.transverse * parts[k];
  });
}

/** The laminate with a share of the layer added to it. */
export function withLining(l: Laminate, { laminate: add }: LiningLayer, share: number): Laminate {
  const [a, b, c] = l.inertia;
  return {
    stiffness: plus(l.stiffness, add.stiffness, share),
    loss: plus(l.loss, add.loss, share),
    inertia: [a + share * add.inertia[0], b + share * add.inertia[1], c + share * add.inertia[2]],
    held: heldSum(l.held, add.held, share),
  };
}

function plus(a: Float64Array, b: Float64Array, share: number): Float64Array {
  const sum = a.slice();
  for (let k = 0; k < sum.length; k++) sum[k] += share * b[k];
  return sum;
}
