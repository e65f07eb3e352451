import { type Polygon, polygonCentroid } from "#engine/geometry";
import { done, failed, type Outcome, type Warning } from "#engine/numerics";
import type { AirProperties } from "./airProperties.ts";
import { type FlowSources, holeConductance } from "./holeConductance.ts";

export interface HoleFlowInput {
  /** The part of the hole inside the body's outline, plan, m. */
  readonly polygon: Polygon;
  /** Thickness of the top with its lip at the hole's edge, m. */
  readonly wallThickness: number;
  /** The body's outline, which ends the outer flange; null: an endless flange. */
  readonly outline: Polygon | null;
  /** m2 of opening in the scooped side where the hole breaks the body's edge; 0 if it does not. */
  readonly scoopArea: number;
  readonly air: AirProperties;
}

/** The air in the hole as one mass moved by the pressure difference, with its losses. */
export interface HoleFlow {
  /** m2. */
  readonly area: number;
  /** m: of the thin hole in an endless plate. */
  readonly conductance: number;
  /** kg/m4: pressure difference per volume acceleration; both ends and the wall between them. */
  readonly inertance: number;
  /** kg/m4: the least and the greatest that the ends may make of it. */
  readonly inertanceRange: readonly [low: number, high: number];
  /** Radius of the hole over the mean reach of the flange around it: 0 endless flange, 1 none. */
  readonly surround: number;
  /** Viscous resistance is this times sqrt(omega), Pa s/m3 per sqrt(rad/s). */
  readonly viscousPerRootOmega: number;
  /** How a unit flow spreads over the opening. */
  readonly flow: FlowSources;
}

/** End corrections over the radius at low frequency: endless flange, no flange (DALMONT-2001). */
const FLANGED = 0.8216;
const UNFLANGED = 0.6133;
const DIRECTIONS = 180;

/** How far a long neck's flow at its mouth stands from even potential (0) towards even velocity (1): circle, DALMONT-2001. */
const LONG_NECK = (FLANGED - Math.PI / 4) / (8 / (3 * Math.PI) - Math.PI / 4);

/**
 * Inertance and viscous resistance of a hole in the top.
 *   inertance = rho ( (1 + e(s)) end + h/S ),   h wall, S area,   end = 1/(2C) + g(h/a) 0.571 (1/(2Cv) - 1/(2C))
 * C, Cv conductances for even potential and even velocity. A thin hole has even potential (0.785 a a side for a circle), a
 * neck settles at 0.8216 a, 0.571 of the way to even velocity; g = 1 - exp(-(h/0.14a)^0.8) between them is fitted to a
 * solution by Bessel modes matched at the mouth of a circular hole (computed by us: 0.7928, 0.8000, 0.8046, 0.8115 a at
 * h/a = 0.02, 0.06, 0.1, 0.2), to 0.001 a. Inner end flanged; outer end shortened by the finite flange as for a disc of
 * radius b with s = a/b (from memory of DALMONT-2001):  e(s) = 1 + [ s (0.6133 - 0.8216) + 0.057 s (1 - s^5) ] / 0.8216,
 * a = sqrt(S/pi),  s = mean over all directions of a over the distance from the hole's middle to the outline, at most 1.
 * Range: low = even potential, no outer flange, and if the hole breaks the edge the scooped opening joined to it (conductance of a
 * compact hole grows as the root of its area, RAYLEIGH); high = endless flanges and even velocity (8a/(3 pi) a side for
 * a circle) at both: the two ideals are not mixed.
 *   viscous resistance = sqrt(eta rho omega/2) P (h + 2a) / S^2, P perimeter (INGARD-1953, from memory)
 * Neglected: what the walls and the back do to the inner end. They belong to a cavity model with a field of its own.
 * Fails with the reasons of `holeConductance`, and 'hole-values' for a negative thickness or scoop.
 */
export function holeFlow(input: HoleFlowInput): Outcome<HoleFlow> {
  const { polygon, wallThickness: h, outline, scoopArea, air } = input;
  if (!(h >= 0 && scoopArea >= 0)) {
    return failed(
      "hole-values",
      `wall thickness ${h} m and scooped opening ${scoopArea} m2 must not be negative`,
    );
  }
  const solved = holeConductance(polygon);
  if (!solved.ok) return solved;
  const { conductance, pistonConductance, area, perimeter, flow } = solved.value;
  const radius = Math.sqrt(area / Math.PI);
  const surround = outline === null ? 0 : flangeLoss(polygon, outline, radius);
  const outer = 1 + (surround * (UNFLANGED - FLANGED) + 0.057 * surround * (1 - surround ** 5)) / FLANGED;
  const wall = h / area;
  const widened = Math.sqrt((area + scoopArea) / area);
  const neck = LONG_NECK * (1 - Math.exp(-((h / (0.14 * radius)) ** 0.8)));
  const end = (1 - neck) / (2 * conductance) + neck / (2 * pistonConductance);
  const inertance = air.density * ((1 + outer) * end + wall);
  const low = (air.density * ((1 + UNFLANGED / FLANGED) / (2 * conductance) + wall)) / widened;
  const high = air.density * (1 / pistonConductance + wall);
  const warnings: Warning[] = [];
  if (scoopArea > 0) {
    warnings.push({
      code: "hole-breaks-edge",
      detail:
        "the hole breaks the body's edge: the opening in the side is in the range of the main air mode only, not in its value",
    });
  }
  return done(
    {
      area,
      conductance,
      inertance,
      inertanceRange: [low, high],
      surround,
      viscousPerRootOmega:
        (Math.sqrt((air.viscosity * air.density) / 2) * perimeter * (h + 2 * radius)) / area ** 2,
      flow,
    },
    warnings,
  );
}

/** Mean over all directions of radius / distance from the hole's middle to the outline, each at most 1. */
function flangeLoss(hole: Polygon, outline: Polygon, radius: number): number {
  const [x, y] = polygonCentroid(hole);
  let sum = 0;
  for (let k = 0; k < DIRECTIONS; k++) {
    const angle = (2 * Math.PI * (k + 0.5)) / DIRECTIONS;
    sum += Math.min(1, radius / rayLength(outline, x, y, Math.cos(angle), Math.sin(angle)));
  }
  return sum / DIRECTIONS;
}

/** Distance along the ray to the polygon's edge; 0 where the ray starts outside and never meets it. */
function rayLength(polygon: Polygon, x: number, y: number, cx: number, cy: number): number {
  let nearest = Number.POSITIVE_INFINITY;
  const n = polygon.length / 2;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const ax = polygon[2 * i] - x;
    const ay = polygon[2 * i + 1] - y;
    const ex = polygon[2 * j] - x - ax;
    const ey = polygon[2 * j + 1] - y - ay;
    const across = cx * ey - cy * ex;
    if (across === 0) continue;
    const along = (ax * ey - ay * ex) / across;
    const on = (ax * cy - ay * cx) / across;
    if (along > 0 && on >= 0 && on < 1) nearest = Math.min(nearest, along);
  }
  return Number.isFinite(nearest) ? nearest : 0;
}
