/** Conductance of holes in a thin endless plate by our boundary elements, against the closed forms. */
import { holeConductance, holeFlow } from "#engine/air";
import { ellipticK, opened } from "#engine/numerics";
import { proof } from "#proofs/harness";
import { ellipsePolygon } from "./shapes.ts";

proof(
  "conductance of a circular and of three elliptic holes over the long half axis",
  {
    source: "RAYLEIGH sec. 306 (hole.circ, hole.ellipse.0.5): 2a, pi a/K(e)",
    quoted: [2, 1.456791, Math.PI / ellipticK(1 - 0.7 ** 2), Math.PI / ellipticK(1 - 0.33 ** 2)],
    relTol: 3e-4,
    because: "observed error of the extrapolated panels is 2.5e-4 or less down to an axis ratio of 1/3",
    mustNotice: { width: 1.002, half: 1.001 },
  },
  (slip) =>
    [1, 0.5, 0.7, 0.33].map((ratio) => {
      const polygon = ellipsePolygon(0.05, 0.05 * ratio * (slip.width ?? 1));
      return (opened(holeConductance(polygon)).conductance * (slip.half ?? 1)) / 0.05;
    }),
);

proof(
  "an elliptic hole conducts more than the circle of its area",
  {
    source: "RAYLEIGH sec. 306 (hole.ellipse.0.5)",
    quoted: 1.030107,
    absTol: 4e-4,
    because: "the quotient of two conductances with an error of 2e-4 each",
    mustNotice: { width: 1.02 },
  },
  (slip) => {
    const a = 0.05;
    const b = 0.025;
    const ellipse = opened(holeConductance(ellipsePolygon(a, b * (slip.width ?? 1)))).conductance;
    return ellipse / opened(holeConductance(ellipsePolygon(Math.sqrt(a * b), Math.sqrt(a * b)))).conductance;
  },
);

proof(
  "even velocity: end correction of a piston in a baffle over its radius",
  {
    source: "JAOUEN-2018 (end.piston): 8/(3 pi)",
    quoted: 0.848826,
    relTol: 3e-4,
    because: "panels with the circle's own area, extrapolated: observed error 7e-5",
    mustNotice: { potentialInstead: 0, half: 1.001 },
  },
  (slip) => {
    const c = opened(holeConductance(ellipsePolygon(1, 1)));
    const conductance = slip.potentialInstead === 0 ? c.conductance : c.pistonConductance;
    return (c.area / (2 * conductance)) * (slip.half ?? 1);
  },
);

const air = {
  density: 1.19931,
  soundSpeed: 343.99,
  heatRatio: 1.4,
  viscosity: 1.8e-5,
  thermalDiffusivity: 2.1e-5,
};
const helmholtz = (inertance: number, volume: number) =>
  (air.soundSpeed / (2 * Math.PI)) * Math.sqrt(air.density / (inertance * volume));

proof(
  "Helmholtz resonance of 12.5 litres with a thin circular and a thin elliptic hole of the same area",
  {
    source: "RAYLEIGH sec. 306 (hole.circ; times the root of hole.ellipse.0.5)",
    quoted: [154.85, 154.85 * Math.sqrt(1.030107)],
    relTol: 2e-4,
    because: "half the error of the conductance, and 154.85 is printed to 3e-5",
    mustNotice: { volume: 1.002, area: 1.002 },
  },
  (slip) =>
    [1, 0.5].map((ratio) => {
      const a = (0.05 / Math.sqrt(ratio)) * Math.sqrt(slip.area ?? 1);
      const polygon = ellipsePolygon(a, a * ratio);
      const hole = opened(holeFlow({ polygon, wallThickness: 0, outline: null, scoopArea: 0, air }));
      return helmholtz(hole.inertance, 0.0125 * (slip.volume ?? 1));
    }),
);

proof(
  "Helmholtz resonance with a 3 mm wall and even velocity at both ends: the heavy end of the range",
  {
    source: "JAOUEN-2018 (hole.neck)",
    quoted: 146.388,
    relTol: 2e-4,
    because: "half the error of the even-velocity conductance",
    mustNotice: { wall: 1.05, volume: 1.002 },
  },
  (slip) => {
    const polygon = ellipsePolygon(0.05, 0.05);
    const wallThickness = 0.003 * (slip.wall ?? 1);
    const hole = opened(holeFlow({ polygon, wallThickness, outline: null, scoopArea: 0, air }));
    return helmholtz(hole.inertanceRange[1], 0.0125 * (slip.volume ?? 1));
  },
);

proof(
  "end correction of a long neck with endless flanges over its radius",
  {
    source: "DALMONT-2001 (end.flanged)",
    quoted: 0.8216,
    absTol: 5e-4,
    because: "tolerance of the source; thin holes have 0.7854, pistons 0.8488",
    mustNotice: { evenPotential: 0, wall: 1.001 },
  },
  (slip) => {
    const a = 0.05;
    const wallThickness = 3 * a;
    const hole = opened(
      holeFlow({ polygon: ellipsePolygon(a, a), wallThickness, outline: null, scoopArea: 0, air }),
    );
    if (slip.evenPotential === 0) return hole.area / (2 * hole.conductance) / a;
    return ((hole.inertance * hole.area) / air.density - wallThickness * (slip.wall ?? 1)) / (2 * a);
  },
);
