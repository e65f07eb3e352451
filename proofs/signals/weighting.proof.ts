import { aWeight } from "#engine/signals";
import { proof } from "#proofs/harness";
import { checkIds, checkValue } from "../strings/checkValue.ts";

const rows = checkIds("aw.")
  .filter((id) => id !== "aw.poles")
  .map((id) => checkValue<number>(id));

proof(
  "A-weighting in dB at the exact third-octave centres",
  {
    source: "IEC-61672 table of weightings",
    quoted: rows.map((r) => r.value),
    absTol: 0.055,
    because: "the table is printed to 0.1 dB",
    mustNotice: { frequency: 1.05, gain: 1.01 },
  },
  (slip) =>
    rows.map((r) => {
      const centre = 1000 * 10 ** (Math.round(10 * Math.log10(r.inputs["f_nominal"]! / 1000)) / 10);
      return 20 * Math.log10(aWeight(centre * (slip["frequency"] ?? 1)) * (slip["gain"] ?? 1));
    }),
);
