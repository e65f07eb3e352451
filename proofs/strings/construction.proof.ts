import { opened } from "#engine/numerics";
import { designString, type StringConstruction, tension, type WireName } from "#engine/strings";
import { proof, type Slips } from "#proofs/harness";

const inch = 0.0254;
/** kg/m in one pound per inch. */
const poundPerInch = 0.45359237 / inch;

const plain = (thousandths: number) =>
  opened(designString({ kind: "plain", diameter: thousandths * 1e-3 * inch, material: "steel" }));

/** Unit weights as printed, in 1e-8 lb/in by gauge in thousandths of an inch (memory). */
const plainWeights: readonly (readonly [gauge: number, weight: number])[] = [
  [8, 1418],
  [9, 1794],
  [10, 2215],
  [11, 2680],
  [12, 3190],
  [13, 3744],
  [14, 4342],
  [16, 5671],
  [17, 6402],
  [18, 7177],
  [20, 8861],
];

proof(
  "unit weight of plain steel strings of 0.008 to 0.020 inch, lb/in",
  {
    source: "UNIT-WEIGHTS (memory)",
    quoted: plainWeights.map(([, weight]) => weight * 1e-8),
    relTol: 8e-3,
    because:
      "the printed weights belong to a density of 7807 kg/m3; the usual design value is 7850, 0.55 % more",
    mustNotice: { diameter: 1.005, weight: 1.01 },
  },
  (slip) =>
    plainWeights.map(
      ([gauge]) =>
        (plain(gauge * (slip["diameter"] ?? 1)).linearDensity / poundPerInch) * (slip["weight"] ?? 1),
    ),
);

/** Cores across their flats by outer gauge, thousandths of an inch (memory). */
const cores: readonly (readonly [gauge: number, core: number])[] = [
  [18, 10],
  [24, 12],
  [32, 13.5],
  [42, 16],
  [53, 18],
  [60, 19],
];

function coreOf(gauge: number): number {
  const above = Math.max(
    1,
    cores.findIndex(([g]) => g >= gauge),
  );
  const [[g0, c0], [g1, c1]] = [cores[above - 1]!, cores[above]!];
  return c0 + ((c1 - c0) * (gauge - g0)) / (g1 - g0);
}

/** The string of that outer gauge: the wrap wire is whatever makes it so thick. */
function wound(gauge: number, material: WireName, slip: Slips): number {
  const core = coreOf(gauge) * (slip["core"] ?? 1);
  const string = (wire: number): StringConstruction => ({
    kind: "wound",
    coreDiameter: core * 1e-3 * inch,
    coreShape: "hex",
    wraps: [{ diameter: wire * 1e-3 * inch, material }],
  });
  const bare = opened(designString(string(5))).diameter / (1e-3 * inch) - 10;
  const wire = ((gauge - bare) / 2) * (slip["wire"] ?? 1);
  return (opened(designString(string(wire))).linearDensity / poundPerInch) * (slip["weight"] ?? 1);
}

const nickelWeights: readonly (readonly [gauge: number, weight: number])[] = [
  [20, 7495],
  [22, 9184],
  [24, 10857],
  [26, 12671],
  [28, 14666],
  [30, 17236],
  [32, 19347],
  [34, 21590],
  [36, 23964],
  [38, 26471],
  [42, 32279],
  [46, 38216],
  [49, 43014],
  [52, 48109],
  [56, 57598],
];
const bronzeWeights: readonly (readonly [gauge: number, weight: number])[] = [
  [20, 8106],
  [22, 9876],
  [24, 11682],
  [26, 13640],
  [30, 18660],
  [32, 21018],
  [36, 26007],
  [42, 34808],
  [45, 40245],
  [47, 43634],
  [53, 56962],
  [56, 63477],
];

for (const [material, weights] of [
  ["nickel-plated-steel", nickelWeights],
  ["phosphor-bronze", bronzeWeights],
] as const) {
  proof(
    `unit weight of hex-core strings wound with ${material}, 0.020 to 0.056 inch outside, lb/in`,
    {
      source: "UNIT-WEIGHTS (memory)",
      quoted: weights.map(([, weight]) => weight * 1e-8),
      relTol: 0.04,
      because:
        "core and wrap wires behind an outer gauge are not printed and differ; the printed weights scatter by 2 %",
      mustNotice: { wire: 1.06, weight: 1.05 },
    },
    (slip) => weights.map(([gauge]) => wound(gauge, material, slip)),
  );

  proof(
    `mean of those weights over the printed ones, ${material}`,
    {
      source: "UNIT-WEIGHTS (memory)",
      quoted: 1,
      absTol: 0.015,
      because: "the bite of the core's corners is fitted to both materials at once, to a half",
      mustNotice: { wire: 1.03, weight: 1.03 },
    },
    (slip) =>
      weights.reduce((sum, [gauge, weight]) => sum + wound(gauge, material, slip) / (weight * 1e-8), 0) /
      weights.length,
  );
}

/** Least tensile strength of music wire, 1000 psi, by diameter in thousandths of an inch (memory). */
const leastStrength: readonly (readonly [diameter: number, strength: number])[] = [
  [4, 439],
  [6, 415],
  [8, 399],
  [10, 387],
  [12, 377],
  [14, 369],
  [16, 362],
  [20, 350],
  [24, 341],
  [29, 330],
];

proof(
  "least tensile strength of music wire of 0.1 to 0.74 mm by diameter, Pa",
  {
    source: "A228 (least strengths by diameter, memory)",
    quoted: leastStrength.map(([, kpsi]) => kpsi * 6.894757e6),
    relTol: 0.025,
    because: "a power law runs through the table within 2 %",
    mustNotice: { exponent: 1.1, strength: 1.03 },
  },
  (slip) =>
    leastStrength.map(([diameter]) => {
      const d = diameter * 1e-3 * inch;
      const strength = plain(diameter).breakingForce / ((Math.PI / 4) * d * d);
      // another exponent of the law, written as a factor about 0.4 mm
      const bent = (d / 0.4e-3) ** (-0.145 * ((slip["exponent"] ?? 1) - 1) * 10);
      return strength * bent * (slip["strength"] ?? 1);
    }),
);

proof(
  "a hexagonal core has 1.103 of the area of a round one as thick, and 1.225 of its stiffness in bending",
  {
    source: "CLOSED-FORM",
    quoted: [(2 * Math.sqrt(3)) / Math.PI, (20 * Math.sqrt(3)) / (9 * Math.PI)],
    relTol: 3e-3,
    because: "the thinnest wrap that may be wound adds a thousandth or two as a spring",
    mustNotice: { core: 1.002, weight: 1.01 },
  },
  (slip) => {
    const make = (coreShape: "round" | "hex", factor: number) =>
      opened(
        designString({
          kind: "wound",
          coreDiameter: 0.5e-3 * factor,
          coreShape,
          wraps: [{ diameter: 0.06e-3, material: "phosphor-bronze" }],
        }),
      );
    const [hex, round] = [make("hex", slip["core"] ?? 1), make("round", 1)];
    return [
      (hex.axialStiffness / round.axialStiffness) * (slip["weight"] ?? 1),
      hex.bendingStiffness / round.bendingStiffness,
    ];
  },
);

/** Tensions printed beside those weights for a scale of 25.5 inches, pounds force (memory). */
const printedTensions: readonly (readonly [gauge: number, frequency: number, pounds: number])[] = [
  [10, 329.63, 16.2],
  [12, 329.63, 23.3],
  [13, 329.63, 27.4],
  [16, 246.94, 23.3],
  [17, 246.94, 26.3],
];

proof(
  "tension of plain strings at pitch on 25.5 inches, N",
  {
    source: "UNIT-WEIGHTS (memory)",
    quoted: printedTensions.map(([, , pounds]) => pounds * 4.4482216),
    relTol: 0.01,
    because: "printed to a tenth of a pound, and with a density 0.55 % lower than ours",
    mustNotice: { length: 1.01, frequency: 1.01 },
  },
  (slip) =>
    printedTensions.map(([gauge, frequency]) =>
      tension(
        plain(gauge).linearDensity,
        25.5 * inch * (slip["length"] ?? 1),
        frequency * (slip["frequency"] ?? 1),
      ),
    ),
);
