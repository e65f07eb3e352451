import { opened } from "#engine/numerics";
import { celsiusZero } from "#engine/units";
import { densityAtMoisture, equilibriumMoisture, shrinkage, strengthAtMoisture } from "#engine/woods";
import { proof } from "#proofs/harness";

/** Table 4-2: degrees Celsius, relative humidity, moisture content in per cent. */
const table: readonly (readonly [number, number, number])[] = [
  [4.4, 0.3, 6.3],
  [4.4, 0.7, 13.5],
  [4.4, 0.9, 21.0],
  [10, 0.5, 9.5],
  [15.6, 0.3, 6.3],
  [15.6, 0.9, 20.7],
  [21.1, 0.2, 4.5],
  [21.1, 0.4, 7.7],
  [21.1, 0.5, 9.2],
  [21.1, 0.65, 12.0],
  [21.1, 0.8, 16.0],
  [21.1, 0.9, 20.5],
  [26.7, 0.7, 12.9],
  [32.2, 0.3, 5.9],
  [37.8, 0.9, 19.5],
  [60, 0.55, 8.4],
];

proof(
  "equilibrium moisture content over temperature and humidity, per cent",
  {
    source: "WH-EMC table 4-2",
    quoted: table.map((row) => row[2]),
    absTol: 0.051,
    because: "the table is printed to 0.1 % moisture",
    mustNotice: { humidity: 1.01, temperature: 1.1, result: 1.01 },
  },
  (slip) =>
    table.map(
      ([t, h]) =>
        100 *
        (slip.result ?? 1) *
        opened(equilibriumMoisture(celsiusZero + t * (slip.temperature ?? 1), h * (slip.humidity ?? 1))),
    ),
);

proof(
  "white ash at 8 % moisture: modulus of rupture, Pa, of the worked example, and bending modulus, Pa",
  {
    source: "WH-MECH eq. 5-3, worked example",
    quoted: [119.5e6, 12794.7e6],
    relTol: 9e-4,
    because: "the example is printed to 0.1 MPa of 119.5",
    mustNotice: { green: 1.01, intersection: 1.02, moisture: 1.05 },
  },
  (slip) => {
    const at = (p12: number, green: number) =>
      strengthAtMoisture(
        p12,
        green * (slip.green ?? 1),
        0.24 * (slip.intersection ?? 1),
        0.08 * (slip.moisture ?? 1),
      );
    return [at(103e6, 66e6), at(12e9, 9.9e9)];
  },
);

proof(
  "Engelmann spruce from 12 to 6 %: tangential and radial shrinkage, per cent of the green width",
  {
    source: "WH-MOIST linear shrinkage to 30 %, totals of WH-T43",
    quoted: [1.42, 0.76],
    absTol: 1e-3,
    because: "the relation is exact; the totals have two digits",
    mustNotice: { total: 1.01, from: 1.01 },
  },
  (slip) =>
    [7.1, 3.8].map(
      (total) => 100 * shrinkage((total / 100) * (slip.total ?? 1), 0.12 * (slip.from ?? 1), 0.06),
    ),
);

proof(
  "density with water, kg/m3: from specific gravity 0.60 at 12 %, and specific gravity at 12 % from basic 0.55",
  {
    source: "WH-MOIST eq. 4-13, 4-14, tables 4-6",
    quoted: [672, 0.6027],
    relTol: 2e-4,
    because: "gravity is printed to 0.0001 in the worked value",
    mustNotice: { density: 1.001, moisture: 1.02 },
  },
  (slip) => {
    const moisture = 0.12 * (slip.moisture ?? 1);
    // Basic gravity 0.55 means 550 kg of dry wood in a cubic metre of green wood: at 30 % that weighs 715 kg.
    const rho = densityAtMoisture(715 * (slip.density ?? 1), 0.3, moisture);
    const dry = 600 * (slip.density ?? 1);
    return [densityAtMoisture(dry * (1 + moisture), moisture, moisture), rho / (1000 * (1 + moisture))];
  },
);
