import { readFileSync } from "node:fs";
import { nearestNote } from "#engine/verdicts";
import { proof } from "#proofs/harness";

interface CheckValue {
  readonly id: string;
  readonly value: Readonly<Record<string, number>>;
}

const checks: readonly CheckValue[] = JSON.parse(
  readFileSync(new URL("../reference/check-values.json", import.meta.url), "utf8"),
);
const published = checks.find(({ id }) => id === "tune.midi")!.value;
const named: Readonly<Record<string, string>> = {
  E2: "40",
  A2: "45",
  D3: "50",
  G3: "55",
  B3: "59",
  C4: "60",
  E4: "64",
};

proof(
  "a verdict names the published tempered frequencies as their own notes, on pitch",
  {
    source: "ISO16",
    quoted: Object.keys(named).map(() => 0),
    absTol: 0.5,
    because: "cents are said whole, and the published frequencies are good to 0.001 cent",
    mustNotice: { frequency: 1.001, octave: 2 },
  },
  (slip) =>
    Object.entries(named).map(([name, key]) => {
      const { note, cents } = nearestNote(published[key]! * (slip["frequency"] ?? 1) * (slip["octave"] ?? 1));
      return note === name ? cents : Number.POSITIVE_INFINITY;
    }),
);
