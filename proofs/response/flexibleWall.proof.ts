/** Structure and cavity coupled through their modes, against the exact equation of a box with one flexible wall. */
import { opened, quiet } from "#engine/numerics";
import { coupleStructure } from "#engine/response";
import { proof } from "#proofs/harness";
import { guidedBox } from "../../engine/response/guidedBox.fixture.ts";

const [thickness, density] = [0.0028, 430];
const cases: readonly (readonly [m: number, n: number, quoted: readonly number[]])[] = [
  [0, 0, [169.915]],
  [1, 0, [24.749, 396.01]],
  [0, 1, [45.898, 506.325]],
  [1, 1, [73.241, 619.96]],
  [2, 1, [155.547, 876.541]],
];

proof(
  "box with one wall on guided edges: coupled frequencies of five shapes, Hz",
  {
    source: "CLOSED-FORM D k^4 - m'' w^2 + rho w^2 cot(kappa d)/kappa = 0 (numbers: physics 2)",
    quoted: cases.flatMap(([, , hz]) => [...hz]),
    relTol: 1e-4,
    because:
      "modes of the depth beyond the list enter as mass: right to (w/w_r)^2 of their small share; quoted to 0.001 Hz",
    mustNotice: { addedMass: 0, depth: 1.01, plateMass: 1.005, soundSpeed: 1.002 },
  },
  (slip) =>
    cases.flatMap(([m, n, hz]) => {
      const parts = guidedBox({
        length: 0.48,
        width: 0.36,
        depth: 0.1 * (slip.depth ?? 1),
        D: (10e9 * thickness ** 3) / (12 * (1 - 0.3 ** 2)),
        massPerArea: density * thickness * (slip.plateMass ?? 1),
        density: 1.2041,
        soundSpeed: 343.21 * (slip.soundSpeed ?? 1),
        shape: [m, n],
        listed: 4,
        residual: slip.addedMass === 0 ? 0 : 4000,
      });
      return Array.from(opened(coupleStructure(parts, quiet)).frequency.slice(0, hz.length));
    }),
);
