/** Air carried by a piston in an endless baffle, at low frequency. */
import { outerAirMass } from "#engine/air";
import { proof } from "#proofs/harness";
import { discMesh } from "./shapes.ts";

const air = { density: 1.2, soundSpeed: 343, heatRatio: 1.4, viscosity: 1.8e-5, thermalDiffusivity: 2.1e-5 };

proof(
  "mass of air on a circular piston over rho a^3, coarse and fine mesh",
  {
    source: "PISTON (piston.low: X -> 8 ka/(3 pi), hence 8/3 rho a^3)",
    quoted: [8 / 3, 8 / 3],
    relTol: 5e-3,
    because:
      "700 squares with a stepped edge lie 0.25 % low; 200 and 40 spokes cut 0.05 and 0.6 % off the area, which is put back",
    mustNotice: { density: 1.01, radius: 1.003 },
  },
  (slip) =>
    [
      [8, 200],
      [10, 40],
    ].map(([rings, spokes]) => {
      // Radius of the polygon that has the circle's area.
      const radius = Math.sqrt((2 * Math.PI) / (spokes * Math.sin((2 * Math.PI) / spokes))) * 0.2;
      const disc = discMesh(radius * (slip.radius ?? 1), rings, spokes);
      const motion = new Float64Array(disc.nodes.length / 3).fill(1);
      const mass = outerAirMass({ ...disc, count: 1, motion }, null, {
        ...air,
        density: air.density * (slip.density ?? 1),
      });
      return mass[0] / (air.density * 0.2 ** 3);
    }),
);

// In Hankel form, with 1/(2 pi r) <-> 1/k: M = pi rho integral (a^2 J2(ka)/k)^2 dk = pi rho a^5 x 4/(15 pi).
proof(
  "mass of air on a disc rocking about its diameter over rho a^5",
  {
    source: "CLOSED-FORM 4/15, from integral of J2(t)^2/t^2 dt = 4/(15 pi)",
    quoted: 4 / 15,
    relTol: 1.3e-2,
    because: "the stepped edge of 700 squares, where a rocking disc moves most: observed 1.1 % low",
    mustNotice: { density: 1.03, radius: 1.006 },
  },
  (slip) => {
    const disc = discMesh(0.2 * (slip.radius ?? 1), 10, 200);
    const motion = Float64Array.from({ length: disc.nodes.length / 3 }, (_, i) => disc.nodes[3 * i]);
    const density = air.density * (slip.density ?? 1);
    return (
      outerAirMass({ ...disc, count: 1, motion }, null, { ...air, density })[0] / (air.density * 0.2 ** 5)
    );
  },
);
