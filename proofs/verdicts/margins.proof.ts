import { celsiusZero } from "#engine/units";
import { breakage, buckling, creepRotation, margins, type StressEntry } from "#engine/verdicts";
import { year } from "#engine/woods";
import { proof } from "#proofs/harness";

function bent(stress: number, woods: readonly string[] = ["Ash, white"]): StressEntry {
  return { part: "test", kind: "bending-along", stress, place: null, woods, glue: null, peak: false };
}

proof(
  "margin of white ash bent at 10 MPa for ten years at 8 % moisture: the handbook's worked example over the stress, times the Madison curve",
  {
    source: "WH-MECH eq. 5-3, worked example, with WOOD-1951",
    quoted: (119.5e6 * 0.6206) / 10e6,
    relTol: 2e-3,
    because: "the example is printed to 0.1 MPa, the curve taken with four digits",
    mustNotice: { stress: 1.01, moisture: 1.05, time: 1.5 },
  },
  (slip) => {
    const [row] = margins([bent(10e6 * (slip["stress"] ?? 1))], {
      name: "ten years",
      moisture: 0.08 * (slip["moisture"] ?? 1),
      temperature: celsiusZero + 20,
      seconds: 10 * year * (slip["time"] ?? 1),
    });
    return row!.margin!;
  },
);

/** Place where a level is left, by halving: `graver` says whether a value is on the graver side; graver values are low. */
function boundary(low: number, high: number, graver: (value: number) => boolean): number {
  let [a, b] = [low, high];
  for (let step = 0; step < 50; step++) {
    const middle = (a + b) / 2;
    if (graver(middle)) a = middle;
    else b = middle;
  }
  return a;
}

const short = { name: "a test", moisture: 0.12, temperature: celsiusZero + 20, seconds: 60 };
const sitka = ["Spruce, Sitka"];

proof(
  "breakage stops below a margin of 1 and watches below 2 (Sitka, 70 MPa); buckling stops below 2 and watches below 4",
  {
    source: "COMMON-PRACTICE",
    quoted: [1, 2, 2, 4],
    relTol: 1e-6,
    because: "limits are stated, closed form beside them",
    mustNotice: { load: 1.001, factor: 1.001 },
  },
  (slip) => {
    const level = (margin: number) =>
      breakage(margins([bent((70e6 / margin) * (slip["load"] ?? 1), sitka)], short)).level;
    const fold = (factor: number) => buckling(factor * (slip["factor"] ?? 1)).level;
    return [
      boundary(0.1, 10, (m) => level(m) === "stop"),
      boundary(0.1, 10, (m) => level(m) !== "good"),
      boundary(0.1, 10, (f) => fold(f) === "stop"),
      boundary(0.1, 10, (f) => fold(f) !== "good"),
    ];
  },
);

proof(
  "creep is watched from 3 degrees likely, or 4 at the high end, after ten years",
  {
    source: "COMMON-PRACTICE",
    quoted: [3, 4],
    relTol: 1e-6,
    because: "limits are stated, closed form beside them",
    mustNotice: { rotation: 1.001 },
  },
  (slip) => {
    const good = (degrees: number, likely: number, high: number): boolean =>
      creepRotation((degrees * (slip["rotation"] ?? 1) * Math.PI) / 180, [
        { years: 10, range: { low: 1, likely, high, source: "test", validity: "test" } },
      ]).level === "good";
    // one end of the range at a time stands at the elastic rotation itself
    return [boundary(0, 10, (d) => good(d, 1, 1)), boundary(0, 10, (d) => good(d, 0, 1))];
  },
);
