import { fromUnit } from "#engine/units";
import { proof } from "#proofs/harness";

/** Factors as printed in the guide, seven digits; quoted from memory of the printed table. */
const printed: readonly (readonly [symbol: string, si: number])[] = [
  ["in", 2.54e-2],
  ["ft", 3.048e-1],
  ["lb", 4.535924e-1],
  ["oz", 2.834952e-2],
  ["lbf", 4.448222],
  ["kgf", 9.80665],
  ["psi", 6.894757e3],
  ["lb/ft3", 1.601846e1],
  ["lb/in", 1.785797e1],
  ["lbf/in", 1.751268e2],
  ["in3", 1.638706e-5],
  ["deg", 1.745329e-2],
];

proof(
  "trade units in SI, inch to degree",
  {
    source: "NIST-SP811 appendix B.8 (memory)",
    quoted: printed.map(([, si]) => si),
    relTol: 4e-7,
    because: "the table is printed to seven digits, so the last of them may be off by half",
    mustNotice: { inch: 1.00001, pound: 1.000001, angle: 1.00001 },
  },
  (slip) =>
    printed.map(([symbol]) => {
      const value = fromUnit(1, symbol);
      if (symbol === "in") return value * (slip["inch"] ?? 1);
      if (symbol === "lb") return value * (slip["pound"] ?? 1);
      return symbol === "deg" ? value * (slip["angle"] ?? 1) : value;
    }),
);

proof(
  "Fahrenheit in kelvin: freezing and boiling point of water, and the temperature at which both scales agree",
  {
    source: "NIST-SP811 appendix B.8 (memory)",
    quoted: [273.15, 373.15, 233.15],
    absTol: 1e-9,
    because: "the relation T/K = (t/F + 459.67)/1.8 is exact",
    mustNotice: { scale: 1.0001 },
  },
  (slip) => [32, 212, -40].map((t) => fromUnit(t, "F") * (slip["scale"] ?? 1)),
);
