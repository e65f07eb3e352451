import { readFileSync } from "node:fs";
import { opened, quiet } from "#engine/numerics";
import { readPanelCase, solvePanelCase } from "#engine/shells";
import { proof } from "#proofs/harness";

/** Further panels modelled as solids for this project: every mode in sorted order and the mass, in units of the tolerance. */
interface CaseFile {
  readonly panel: { thickness: number; braces: { heights: number[][] }[] };
  readonly reference: { frequencies_hz: number[]; tolerance_rel: number[]; mass_kg: number };
}

for (const [name, height] of [
  ["o01_ladder_clamped", 0.85],
  ["o05_tall_short_hinged", 0.9],
  ["o08_spokes_hinged", 0.9],
] as const) {
  const url = new URL(`../reference/panel-cases-own/${name}.json`, import.meta.url);
  proof(
    `own panel case ${name}: every mode and the mass, in tolerances`,
    {
      source: `PANEL-CASES-OWN ${name}`,
      quoted: new Array(21).fill(0),
      absTol: 1,
      because: "the case's own tolerance for each mode (panel-cases-own/README.md); 0.1 % for the mass",
      mustNotice: { height },
    },
    (slip) => {
      const file: CaseFile = JSON.parse(readFileSync(url, "utf8"));
      for (const h of file.panel.braces.flatMap((b) => b.heights)) h[1]! *= slip["height"] ?? 1;
      const answer = opened(solvePanelCase(opened(readPanelCase(file)), quiet));
      const { frequencies_hz: f, tolerance_rel: t, mass_kg } = file.reference;
      return [
        ...f.map((hz, k) => (answer.frequenciesHz[k] / hz - 1) / t[k]),
        (answer.massKg / mass_kg - 1) / 0.001,
      ];
    },
  );
}
