import { proof } from "#proofs/harness";
import { bodyOf, hertz, modesTo } from "./bodyBoxes.ts";
import { boxSpec, readBoxCase } from "./boxCase.ts";

/** Boxes modelled as solids for this project: the 15 lowest elastic modes in sorted order, and the mass. */
for (const [name, tolerance, why, mustNotice] of [
  [
    "b01_bare_box",
    0.025,
    "the solids' joints give a little (soft across the wood): shells are 0 to 2 % high",
    { side: 1.1, top: 1.05 },
  ],
  [
    "b02_lined_box",
    0.045,
    "the lining as a layer, one element across its strip: 1 % low to 4 % high",
    { lining: 0.6, top: 1.08 },
  ],
  [
    "b03_box_with_block",
    0.05,
    "as b02; the block is rigid here and of finite stiffness in the solids",
    { lining: 0.6, top: 1.08 },
  ],
] as const) {
  proof(
    `box ${name}: 15 modes and the mass, in tolerances`,
    {
      source: `BODY-CASES-OWN ${name}`,
      quoted: new Array(16).fill(0),
      absTol: 1,
      because: `${why}; 0.4 % for the mass (the linings' corners and ends)`,
      mustNotice,
    },
    (slip) => {
      const file = readBoxCase(name);
      const system = bodyOf(boxSpec(file, slip), 0.0075);
      const { frequencies_hz: f, mass_kg } = file.reference;
      const found = hertz(modesTo(system, 1.1 * (f[14] as number)));
      return [
        ...f.slice(0, 15).map((hz, k) => ((found[k] as number) / hz - 1) / tolerance),
        (system.totalMass / mass_kg - 1) / 0.004,
      ];
    },
  );
}
