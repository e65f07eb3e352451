import { opened } from "#engine/numerics";
import { celsiusZero } from "#engine/units";
import {
  catalogueWood,
  equilibriumMoisture,
  moistureFactor,
  type StrengthKind,
  shrinkage,
  strengthOf,
  temperatureFactor,
} from "#engine/woods";
import { proof } from "#proofs/harness";

proof(
  "white ash in bending at 8 % moisture, Pa: the worked example through the strength table and its factor",
  {
    source: "WH-MECH eq. 5-3, worked example",
    quoted: 119.5e6,
    relTol: 1e-3,
    because: "printed to 0.1 MPa; the green cell is in whole MPa",
    mustNotice: { strength: 1.01, moisture: 1.05 },
  },
  (slip) => {
    const ash = strengthOf("Ash, white", "bending-along")!;
    return (
      ash.dry.value * (slip["strength"] ?? 1) * moistureFactor(ash, 0.08 * (slip["moisture"] ?? 1)).factor
    );
  },
);

const printed: readonly (readonly [string, number])[] = [
  ["Spruce, Sitka", 70e6],
  ["Spruce, Engelmann", 64e6],
  ["Cedar, western red", 51.7e6],
  ["Maple, sugar", 109e6],
  ["Maple, bigleaf", 74e6],
  ["Walnut, black", 101e6],
  ["Basswood", 60e6],
];

proof(
  "modulus of rupture at 12 % of the woods of a guitar, Pa",
  {
    source: "WH-T53",
    quoted: printed.map(([, rupture]) => rupture),
    relTol: 1e-6,
    because: "read from the table's rows",
    mustNotice: { strength: 1.001 },
  },
  (slip) => printed.map(([name]) => strengthOf(name, "bending-along")!.dry.value * (slip["strength"] ?? 1)),
);

const warmed: readonly (readonly [StrengthKind, number])[] = [
  ["bending-along", 0.8],
  ["tension-along", 0.96],
  ["compression-along", 0.75],
  ["tension-across", 0.8],
];

proof(
  "strength at 50 degrees Celsius over that at 20, near 12 % moisture (from memory, checked for the slope's use only)",
  {
    source: "WH-MECH table of temperature (from memory)",
    quoted: warmed.map(([, factor]) => factor),
    absTol: 1e-9,
    because: "the anchor of the straight line, exact",
    mustNotice: { warmth: 1.1 },
  },
  (slip) =>
    warmed.map(([kind]) => temperatureFactor(kind, celsiusZero + 20 + 30 * (slip["warmth"] ?? 1))!.factor),
);

/** Humidity at which wood at 21.1 degrees Celsius holds so much water, by halving. */
function humidityFor(moisture: number): number {
  let [low, high] = [0.01, 0.94];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (opened(equilibriumMoisture(celsiusZero + 21.1, middle)) < moisture) low = middle;
    else high = middle;
  }
  return low;
}

proof(
  "Engelmann spruce taken from air at 12 % to air at 6 % moisture: tangential and radial shrinkage, per cent of the green width",
  {
    source: "WH-MOIST with WH-T43 and WH-EMC",
    quoted: [1.42, 0.76],
    absTol: 1e-3,
    because: "totals of two digits, the chain humidity, moisture, shrinkage closes on itself",
    mustNotice: { humidity: 0.97, total: 1.01 },
  },
  (slip) => {
    const spruce = catalogueWood("Spruce, Engelmann")!.record.shrinkage!;
    const [from, to] = [0.12, 0.06].map((m) => humidityFor(m) * (m > 0.1 ? (slip["humidity"] ?? 1) : 1));
    const at = (h: number): number => opened(equilibriumMoisture(celsiusZero + 21.1, h));
    return [spruce.tangential, spruce.radial].map(
      (total) => 100 * shrinkage(total.value * (slip["total"] ?? 1), at(from!), at(to!)),
    );
  },
);

proof(
  "Engelmann spruce from 65 %RH to 20 %RH at 21.1 degrees Celsius: tangential shrinkage, per cent of the green width",
  {
    source: "WH-EMC table 4-2 (12.0 and 4.5 %) with WH-T43",
    quoted: (7.1 * (12.0 - 4.5)) / 30,
    absTol: 0.03,
    because: "both cells are rounded to 0.1 % moisture, 0.024 % of width together",
    mustNotice: { humidity: 1.05, total: 1.03 },
  },
  (slip) => {
    const at = (h: number): number => opened(equilibriumMoisture(celsiusZero + 21.1, h));
    const total = catalogueWood("Spruce, Engelmann")!.record.shrinkage!.tangential.value;
    return 100 * shrinkage(total * (slip["total"] ?? 1), at(0.65), at(0.2 * (slip["humidity"] ?? 1)));
  },
);
