import type { Laminate } from "../laminate.ts";
import { plyStiffness } from "../laminate.ts";
import { rectangleTorsion } from "../ribSection.ts";
import type { LiningSpec } from "./bodySpec.ts";

/** A lining smeared as a layer: integrals of its stiffness over its height. */
interface LiningLayer {
  readonly laminate: Laminate;
}

/**
 * The lining under the plate, as a layer over the whole strip from the side's mid-surface to the lining's inner edge.
 *
 * What it stands for: a bar of width w and height h glued to plate and side. Along the edge it keeps its EA and its
 * E w h3 / 12 about its own axis (kerfs leave `alongShare` of both) at its own height under the plate; across the edge its
 * whole cross section is stiff (ER over h: the plate cannot bend over it); its torsion is that of its rectangle, not that
 * of a thin plate, which for a bar twice as high as wide would be five times too much. Density and stiffness along
 * are spread from w over the strip's width. Its mass rides here. The corner's other leg is the side's layer (`sideLining`).
 */
export function plateLining(
  lining: LiningSpec,
  strip: number,
  plateThickness: number,
  angle: number,
): LiningLayer {
  const { width: w, height: h, material: m, alongShare } = lining;
  const spread = w / strip;
  const centre = -(plateThickness + h) / 2;
  const flat = plyStiffness(
    {
      ...m,
      EL: Math.max(m.EL * alongShare * spread, 1e-6 * m.ER),
      nuLR: 0,
      GLR: m.GLR * alongShare * spread,
    },
    angle,
  );
  // twisting stiffness D66 = GJ / (4 strip) of the bar alone, written as a modulus over h3 / 12
  const twist = (3 * m.GLR * alongShare * rectangleTorsion(w, h)) / (strip * h ** 3);
  const bent = plyStiffness(
    { ...m, EL: Math.max(m.EL * alongShare * spread, 1e-6 * m.ER), nuLR: 0, GLR: twist },
    angle,
  );
  const stiffness = new Float64Array(64);
  const loss = new Float64Array(64);
  for (const [to, q, d] of [
    [stiffness, flat.re, bent.re],
    [loss, flat.im, bent.im],
  ] as const) {
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        const a = q[3 * i + j] * h;
        to[8 * i + j] = a;
        to[8 * i + 3 + j] = to[8 * (i + 3) + j] = a * centre;
        to[8 * (i + 3) + 3 + j] = a * centre ** 2 + (d[3 * i + j] * h ** 3) / 12;
      }
    }
  }
  addShear(stiffness, loss, m.GRT, m.loss.transverse, h);
  const m0 = m.density * h * spread;
  return { laminate: { stiffness, loss, inertia: [m0, m0 * centre, m0 * (centre ** 2 + h ** 2 / 12)] } };
}

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
  addShear(stiffness, loss, m.GRT, m.loss.transverse, w);
  return { laminate: { stiffness, loss, inertia: [0, 0, 0] } };
}

function addShear(stiffness: Float64Array, loss: Float64Array, g: number, lossG: number, h: number): void {
  for (const at of [54, 63]) {
    stiffness[at] += (5 / 6) * g * h;
    loss[at] += (5 / 6) * g * h * lossG;
  }
}

/** The laminate with a share of the layer added to it. */
export function withLining(l: Laminate, { laminate: add }: LiningLayer, share: number): Laminate {
  const sum = (a: Float64Array, b: Float64Array): Float64Array => a.map((v, k) => v + share * b[k]);
  const [a, b, c] = l.inertia;
  return {
    stiffness: sum(l.stiffness, add.stiffness),
    loss: sum(l.loss, add.loss),
    inertia: [a + share * add.inertia[0], b + share * add.inertia[1], c + share * add.inertia[2]],
  };
}
