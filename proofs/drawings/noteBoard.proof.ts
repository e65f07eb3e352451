import { readFileSync } from "node:fs";
import { marksOf, noteBoardSheet } from "#engine/drawings";
import { boardLayout } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { proof } from "#proofs/harness";

interface CheckValue {
  readonly id: string;
  readonly value: readonly number[];
}

const checks: readonly CheckValue[] = JSON.parse(
  readFileSync(new URL("../reference/check-values.json", import.meta.url), "utf8"),
);
const frets = [1, 2, 3, 5, 7, 12, 14, 20, 24];

/** Distances nut to slot (mm of the guitar) read off the drawn note board of a parallel 650 mm scale. */
function drawnDistances(scale: number, shift: number): number[] {
  const width = 0.05;
  const board = opened(
    boardLayout({
      strings: 6,
      bassScale: scale,
      trebleScale: scale,
      squareFret: 0,
      frets: 24,
      nutWidth: width,
      endWidth: width,
      endStation: 0.49,
      stringSpreadNut: 0.044,
      stringSpreadSaddle: 0.044,
    }),
  );
  const drawing = noteBoardSheet({ board, noteBoard: [], hand: "left", validToHz: 300 });
  const place = (fret: number): Float64Array => {
    const [mark] = marksOf(drawing, `slot ${fret}`);
    if (mark?.kind !== "path") throw new Error(`no slot ${fret} in the drawing`);
    return mark.pieces[0]!;
  };
  const nut = place(0);
  // The board's width in the drawing gives its scale, independently of any distance along it.
  const mmPerMetre = Math.abs(nut[3]! - nut[1]!) / width;
  return frets.map((fret) => ((place(fret)[0]! - nut[0]!) / mmPerMetre) * 1000 * shift);
}

proof(
  "the note board is drawn with its slots where they are to be cut",
  {
    source: "FRETEQ 650 mm",
    quoted: checks.find(({ id }) => id === "fret.650")!.value,
    absTol: 1e-3,
    because: "the published table is given to 1e-4 mm; a slot is cut to 0.05 mm",
    mustNotice: { scale: 1.0001, distance: 1.0002 },
  },
  (slip) => drawnDistances(0.65 * (slip["scale"] ?? 1), slip["distance"] ?? 1),
);
