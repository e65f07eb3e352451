/** Moist air against the printed table of the standard and against Cramer's polynomial evaluated elsewhere. */
import { airProperties } from "#engine/air";
import { proof } from "#proofs/harness";

const at = (celsius: number, humidity: number, slip: Readonly<Record<string, number>>) =>
  airProperties({
    temperature: 273.15 + celsius * (slip.celsius ?? 1),
    pressure: 101325,
    relativeHumidity: Math.min(1, humidity * (slip.humidity ?? 1)),
  });

proof(
  "air at 23 C, 50 % RH: sound speed and ratio of specific heats",
  {
    source: "IEC-61094 table F.1 set A (air.iec.a)",
    quoted: [345.86652, 1.4007573],
    relTol: 1.5e-7,
    because:
      "half a unit in the last printed place is 1.5e-8 and 3.6e-8 relative; the coefficients are printed to 7 digits",
    mustNotice: { celsius: 1.0001, humidity: 1.001 },
  },
  (slip) => {
    const a = at(23, 0.5, slip);
    return [a.soundSpeed, a.heatRatio];
  },
);

proof(
  "air at 23 C, 50 % RH: density, viscosity, thermal diffusivity",
  {
    source: "IEC-61094 table F.1 set A (air.iec.a)",
    quoted: [1.1860848, 1.826566e-5, 2.115317e-5],
    relTol: 3e-7,
    because: "half a unit in the last printed place is at most 2.7e-7 relative",
    mustNotice: { celsius: 1.0001, humidity: 1.001 },
  },
  (slip) => {
    const a = at(23, 0.5, slip);
    return [a.density, a.viscosity, a.thermalDiffusivity];
  },
);

proof(
  "air from 0 to 30 C, dry and moist: density and sound speed",
  {
    source: "CRAMER-1993 (air.pt.*)",
    quoted: [
      1.29305, 331.4477, 1.22163, 340.8757, 1.20456, 343.3595, 1.19931, 343.9869, 1.19774, 344.175, 1.17732,
      347.1268, 1.17314, 347.6416, 1.15551, 350.3102,
    ],
    relTol: 1e-5,
    because: "the quoted values carry six digits; their stated tolerance is 1e-4",
    mustNotice: { celsius: 1.002, humidity: 1.02 },
  },
  (slip) =>
    [
      [0, 0],
      [15, 0.5],
      [20, 0],
      [20, 0.5],
      [20, 0.65],
      [25, 0.5],
      [25, 0.8],
      [30, 0.5],
    ].flatMap(([celsius, humidity]) => {
      const a = at(celsius, humidity, slip);
      return [a.density, a.soundSpeed];
    }),
);
