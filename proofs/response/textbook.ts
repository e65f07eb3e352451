/** A guitar of the textbooks: one mode of one plate, one hole, one spring of air; nothing else moves. */
import type { BodyParts } from "#engine/response";
import { supportedPlateModes } from "../../engine/response/supportedPlate.fixture.ts";

const air = { density: 1.2, soundSpeed: 343, heatRatio: 1.4, viscosity: 0, thermalDiffusivity: 0 };

export interface Oscillators {
  /** rad/s: the plate in vacuo, the hole on its cavity with rigid walls. */
  readonly plate: number;
  readonly hole: number;
  /** rad/s: square is the coupling entry of the mass-normalised stiffness. */
  readonly coupling: number;
}

/**
 * The two-oscillator body as parts for `coupleBody`. With v the plate's volume per unit mode, kappa = rho c^2/V, L the
 * hole's inertance:  hole^2 = kappa/L,  coupling^2 = kappa v/sqrt(L) = hole v sqrt(kappa). A heavy plate and a small cavity
 * keep the flows, and so the radiation, next to nothing.
 */
export function twoOscillators(o: Oscillators): BodyParts {
  const [length, width, massPerArea] = [0.4, 0.4, 2e5];
  // One mode (1,1) of a square supported plate: omega^2 = 4 pi^4 D / (sigma a^4).
  const D = (o.plate ** 2 * massPerArea * length ** 4) / (4 * Math.PI ** 4);
  const shape = { length, width, massPerArea, D1: D, D2: D, D3: D, lossFactor: 0, cells: [8, 8] as const };
  const top = supportedPlateModes({ ...shape, count: 1 });
  const back = { ...supportedPlateModes({ ...shape, count: 1 }), volume: new Float64Array(1) };
  const kappa = (o.coupling ** 2 / (o.hole * top.volume[0])) ** 2;
  return {
    top,
    back: { ...back, omega: Float64Array.of(1e5) },
    backSeat: { depth: 0.1, slope: 0 },
    rim: "held",
    cavity: {
      volume: (air.density * air.soundSpeed ** 2) / kappa,
      air,
      hole: {
        area: 0.01,
        conductance: 0.1,
        inertance: kappa / o.hole ** 2,
        inertanceRange: [0, 0],
        surround: 0,
        viscousPerRootOmega: 0,
        flow: { points: Float64Array.of(0.2, 0), strength: Float64Array.of(1) },
      },
      leak: 0,
      wallArea: 0,
    },
    crowns: [{ string: 1, x: 0.2, y: 0, height: 0.01 }],
    bridgeFlexibility: new Float64Array(36),
    stringStiffness: null,
    outsideAir: "none",
  };
}
