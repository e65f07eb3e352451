import type { BeamSection } from "./elements/edgeBeam.ts";
import type { PanelRib } from "./panel.ts";

/**
 * Torsion constant of a rectangle a x b, a >= b:  a b3 [1/3 - 0.21 (b/a) (1 - b4 / (12 a4))], m4, within 0.5 %.
 * Source: ROARK (table of torsion constants), from memory.
 */
export function rectangleTorsion(p: number, q: number): number {
  const a = Math.max(p, q);
  const b = Math.min(p, q);
  return a * b ** 3 * (1 / 3 - 0.21 * (b / a) * (1 - (b / a) ** 4 / 12));
}

/**
 * Torsion constant of a rib glued on one face. The plate, stiff in its own plane, holds the glue face plane, which is
 * what the middle plane of a rectangle of twice the height is by symmetry: J = J(width x 2 height) / 2. It exceeds
 * that of the free-standing rectangle by 20 to 35 % for the usual proportions (solids: about 25 %, panel cases c07b)
 * and tends to a laminate's twisting stiffness 4/3 width height3 for a thin strip.
 */
export function gluedRibTorsion(width: number, height: number): number {
  return rectangleTorsion(width, 2 * height) / 2;
}

/** Height of a rib at the fraction s of its plan length; linear between the stations, constant beyond them. */
export function ribHeight(rib: PanelRib, s: number): number {
  const h = rib.heights;
  if (s <= h[0][0]) return h[0][1];
  for (let k = 1; k < h.length; k++) {
    if (s <= h[k][0]) {
      const [s0, h0] = h[k - 1];
      const [s1, h1] = h[k];
      return s1 > s0 ? h0 + ((h1 - h0) * (s - s0)) / (s1 - s0) : h1;
    }
  }
  return h[h.length - 1][1];
}

/** Section of the rib at s on a plate of the given thickness; Timoshenko shear area 5/6 of the section. */
export function ribSection(rib: PanelRib, s: number, plateThickness: number): BeamSection {
  const { material: m, width: w } = rib;
  const h = ribHeight(rib, s);
  const area = w * h;
  const sign = rib.side === "inside" ? -1 : 1;
  return {
    EA: m.EL * area,
    EI: (m.EL * w * h ** 3) / 12,
    GAs: (5 / 6) * m.G * area,
    GJ: m.G * gluedRibTorsion(w, h),
    glue: (sign * plateThickness) / 2,
    centroid: (sign * h) / 2,
    massPerLength: m.density * area,
    inertiaBending: (m.density * w * h ** 3) / 12,
    inertiaTwist: (m.density * w * h * (w * w + h * h)) / 12,
    lossE: m.loss?.L ?? 0,
    lossG: m.loss?.G ?? 0,
  };
}
