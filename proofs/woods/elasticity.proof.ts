import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { symmetricEigen } from "#engine/numerics";
import { catalogueWood, normalCompliance, reciprocalPoisson, species } from "#engine/woods";
import { proof } from "#proofs/harness";
import { speciesDataText } from "../../tools/woods-data.ts";

proof(
  "Sitka spruce: the reciprocal Poisson ratio nuRL follows from nuLR, ER and EL",
  {
    source: "WH-ELASTIC tables 5-1 and 5-2",
    quoted: 0.029,
    absTol: 1e-4,
    because: "product of three tabulated numbers",
    mustNotice: { nuLR: 1.01, ER: 1.01, EL: 1.01 },
  },
  (slip) => {
    const { EL, ER, nuLR } = catalogueWood("Spruce, Sitka")!.wood;
    return reciprocalPoisson(nuLR * (slip.nuLR ?? 1), EL * (slip.EL ?? 1), ER * (slip.ER ?? 1));
  },
);

proof(
  "Sitka spruce: EL from the bending modulus, and ER, GLR, GLT, GRT over EL, density",
  {
    source: "WH-ELASTIC table 5-1, with WH-T53 and the factor 1.10 (memory)",
    quoted: [11.88e9, 0.078, 0.064, 0.061, 0.003, 448],
    relTol: 5e-4,
    because: "the catalogue keeps four digits",
    mustNotice: { EL: 1.002, ratio: 1.002, density: 1.002 },
  },
  (slip) => {
    const { EL, ER, GLR, GLT, GRT, density } = catalogueWood("Spruce, Sitka")!.wood;
    const ratio = (v: number) => (v / EL) * (slip.ratio ?? 1);
    return [
      EL * (slip.EL ?? 1),
      ratio(ER),
      ratio(GLR),
      ratio(GLT),
      ratio(GRT),
      density * (slip.density ?? 1),
    ];
  },
);

interface Printed {
  species: string;
  density12_kg_m3: number;
  EL_GPa: number;
  ratios?: Record<string, number | null>;
}

const printed: Printed[] = JSON.parse(
  readFileSync(new URL("../reference/wood-properties.json", import.meta.url), "utf8"),
).species;

proof(
  "every species of the reference table is in the catalogue with its density, EL and tabulated ER",
  {
    source: "WH-GTR as collected in proofs/reference/wood-properties.json",
    quoted: printed.flatMap((p) => [
      p.density12_kg_m3,
      p.EL_GPa * 1e9,
      (p.ratios?.ER_EL ?? 0) * p.EL_GPa * 1e9,
    ]),
    relTol: 6e-4,
    because: "the catalogue keeps four digits",
    mustNotice: { density: 1.01, EL: 1.01, ER: 1.01 },
  },
  (slip) =>
    printed.flatMap((p) => {
      const w = catalogueWood(p.species)!.wood;
      const ER = p.ratios?.ER_EL == null ? 0 : w.ER * (slip.ER ?? 1);
      return [w.density * (slip.density ?? 1), w.EL * (slip.EL ?? 1), ER];
    }),
);

/** Smallest eigenvalue of the compliance scaled to unit diagonal: above zero means positive definite. */
function leastEigenvalue(compliance: Float64Array): number {
  const scale = [0, 4, 8].map((k) => 1 / Math.sqrt(compliance[k]));
  const scaled = compliance.map((v, k) => v * scale[Math.floor(k / 3)] * scale[k % 3]);
  return symmetricEigen(scaled, 3).values[0];
}

it("every species has a positive definite compliance, and one Poisson ratio too large for its moduli is noticed (WH-ELASTIC)", () => {
  for (const s of species) expect(leastEigenvalue(normalCompliance(s)), s.name).toBeGreaterThan(0);
  const sitka = catalogueWood("Spruce, Sitka")!.record;
  const wrong = { ...sitka, nuLR: { ...sitka.nuLR, value: 3.7 } };
  expect(leastEigenvalue(normalCompliance(wrong))).toBeLessThan(0);
});

it("the committed table is what tools/woods-data.ts writes from the reference data", () => {
  const committed = readFileSync(new URL("../../engine/woods/species.data.ts", import.meta.url), "utf8");
  expect(committed).toBe(speciesDataText());
});
