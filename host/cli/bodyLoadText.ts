import type { LoadReport } from "#engine/pipeline";
import { inUnit } from "#engine/units";
import { newtons, table, wrapped } from "./text.ts";

type Row = LoadReport["variants"][number];

const inMillimetres = (length: number): string => inUnit(length, "mm").toFixed(2);
const megapascals = (pascals: number): string => `${inUnit(pascals, "MPa").toFixed(1)} MPa`;

/** What strings, tunings, other bodies and other air do to the shape of the guitar, and the bridge's glue line. */
export function bodyLoadText(report: LoadReport): string {
  const head = ["bridge", "tilt", "twist", "hollow", "belly", "action at fret 12, by string"];
  const blocks = [
    wrapped(
      "Shape: elastic, against the slack body: degrees that the bridge turns and the neck block tilts toward the nut and twists; mm of the top's hollow and belly, and of each string's rise over fret 12 since glue-up, string 1 first.",
    ),
    table([["body", ...head], ...report.variants.map((row) => [row.name, ...shape(row)])]),
    ...(report.variants.length > 1
      ? [
          wrapped(
            "Without rods: nothing else changed. Other side: the whole body turned over under the same neck, strings and bridge.",
            "  ",
          ),
        ]
      : []),
    ...(report.tunings.length > 1
      ? [
          table([
            ["tuning", "in all", ...head],
            ...report.tunings.map((row) => [row.name, newtons(row.totalN), ...shape(row)]),
          ]),
        ]
      : []),
    table([
      ["air alone", "wood", ...head],
      ...report.climates.map((row) => [row.name, `${(100 * row.moisture[1]).toFixed(1)} %`, ...shape(row)]),
    ]),
    wrapped(
      `Air: change against the shop (wood at ${(100 * (report.climates[0]?.moisture[0] ?? 0)).toFixed(1)} %), all wood in balance with it, which takes weeks (a car is hot for hours: its row is the end it tends to); strings kept at pitch; neck, finish and solid blocks keep their size (blocks that moved freely across their grain would undo most of the change at the saddle: the dome is known within 0.3 mm); shrinkage along the grain and growth by heat from memory.`,
      "  ",
    ),
    ...(report.movementUnknown.length === 0
      ? []
      : [wrapped(`Not known, and kept at their size: ${report.movementUnknown.join(", ")}.`, "  ")]),
    ...glueText(report),
  ];
  return blocks.join("\n");
}

function shape(row: Row): string[] {
  return [
    row.bridgeRotationDeg.toFixed(2),
    row.neckTiltDeg.toFixed(3),
    row.neckTwistDeg.toFixed(3),
    inMillimetres(row.topLeastM),
    inMillimetres(row.topGreatestM),
    row.actionChangeM.map(inMillimetres).join(" "),
  ];
}

function glueText({ glueLine: glue }: LoadReport): string[] {
  if (glue === null) return [];
  const { shear, peel } = glue;
  const range = ({ low, likely, high }: typeof peel.edge): string =>
    `${megapascals(likely)} (${inUnit(low, "MPa").toFixed(1)} to ${inUnit(high, "MPa").toFixed(1)})`;
  const perMillimetre = peel.perLength * 1e-3;
  return [
    "Bridge glue line:",
    table([
      ["", "in the mean", "along the rear edge", "greatest there"],
      ["shear", megapascals(shear.mean), "", range(shear.edge)],
      ["peel", megapascals(peel.straight.value), megapascals(peel.meanEdge), range(peel.edge)],
    ]),
    wrapped(
      `Peel gathered over the rear half: ${perMillimetre.toFixed(1)} N for each mm of edge. In the mean: stress that runs straight over the footprint; at the edge: sheets on an elastic bed, elastic, within a factor of 2. Bridges do not lift from this mean shear: they lift from heat, from a foot that does not fit the dome, and from finish left under the edge.`,
      "  ",
    ),
  ];
}
