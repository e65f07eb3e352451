import type { StringConstruction } from "./design.ts";

/** Section of what carries a string. */
export interface CoreSection {
  readonly area: number;
  /** Second moment of area, m4: the same about every axis. */
  readonly inertia: number;
  /** Diameter of the circle that a wrap sits on. */
  readonly seat: number;
  /** Diameter that the tensile law is read at: a hexagon is drawn from round wire of its own area. */
  readonly wireDiameter: number;
}

/**
 * The corners of a hexagon bite into the wrap by this share of what they stand out over the flats: fitted to unit weights
 * published by outer gauge (UNIT-WEIGHTS), in which the wires of the core hardly tell and two alloys agree.
 */
const cornerBite = 0.5;

/**
 * A plain wire or the core of a wound string. Hexagon of width d across its flats: side d/sqrt(3), area (sqrt(3)/2) d^2,
 * I = (5 sqrt(3)/144) d^4; round: pi/4 d^2 and pi/64 d^4.
 */
export function coreSection(c: StringConstruction): CoreSection {
  const d = c.kind === "plain" ? c.diameter : c.coreDiameter;
  if (c.kind === "wound" && c.coreShape === "hex") {
    const area = (Math.sqrt(3) / 2) * d * d;
    return {
      area,
      inertia: ((5 * Math.sqrt(3)) / 144) * d ** 4,
      seat: d + (1 - cornerBite) * ((2 * d) / Math.sqrt(3) - d),
      wireDiameter: Math.sqrt((4 * area) / Math.PI),
    };
  }
  return { area: (Math.PI / 4) * d * d, inertia: (Math.PI / 64) * d ** 4, seat: d, wireDiameter: d };
}
