import { formatQuantity, inUnit } from "#engine/units";
import { type MarginRow, sayAngle, sayForce } from "#engine/verdicts";
import type { LoadSheetView } from "./loadView.ts";
import { bridge, pull, type ShopWord } from "./shopWords.ts";
import { extremesOf } from "./tintedPlate.ts";

/** What the load implies, in the order a maker asks: the pull, the bridge, the top, the neck, what is nearest to giving, the years. */
export function loadWords(view: LoadSheetView): readonly ShopWord[] {
  return [
    { topic: "Pull of the strings", sentences: pull(view) },
    ...bridge(view),
    { topic: "What the top does", sentences: top(view) },
    { topic: "What the neck does", sentences: neck(view) },
    { topic: "What is nearest to giving", sentences: nearest(view) },
    { topic: "What the years add", sentences: years(view) },
    { topic: "What the air does", sentences: climates(view) },
  ].filter((word) => word.sentences.length > 0);
}

/** "212 mm from the tail, 31 mm to the bass side", from a place of the drawn plan. */
export function sayPlace(x: number, y: number, hand: "right" | "left"): string {
  const toBass = hand === "right" ? y : -y;
  const from = `${formatQuantity(x, "mm", 0)} from the tail`;
  if (Math.abs(toBass) < 5e-4) return `${from}, on the centreline`;
  return `${from}, ${formatQuantity(Math.abs(toBass), "mm", 0)} to the ${toBass > 0 ? "bass" : "treble"} side`;
}

function top({ deflection: { mesh, rise }, hand, buckling }: LoadSheetView): readonly string[] {
  const { most, least } = extremesOf(mesh, rise);
  const place = (n: number) => sayPlace(mesh.nodes[2 * n], mesh.nodes[2 * n + 1], hand);
  const moves = [
    ...(rise[most] > 0
      ? [`It bellies by ${formatQuantity(rise[most], "mm", 2)} at most, ${place(most)}.`]
      : []),
    ...(rise[least] < 0
      ? [`It sinks by ${formatQuantity(-rise[least], "mm", 2)} at most, ${place(least)}.`]
      : []),
  ];
  const { factor, knockDown } = buckling;
  const limit =
    factor === null
      ? "No pull was found at which it would buckle."
      : `By linear theory it would buckle at ${factor.toFixed(1)} times this pull; count on ${(factor / knockDown).toFixed(1)} times.`;
  return [...moves, limit];
}

function neck({ neckBlock, neck: found, section }: LoadSheetView): readonly string[] {
  const { tilt, twist } = neckBlock;
  const block = `Its block turns ${formatQuantity(Math.abs(tilt), "degrees", 2)} ${tilt >= 0 ? "toward the nut" : "toward the tail"} and twists by ${formatQuantity(Math.abs(twist), "degrees", 2)}.`;
  const string = section?.string ?? null;
  const nutRise = string === null ? null : string.shift[string.shift.length - 1];
  return [
    block,
    ...(nutRise === null
      ? []
      : [
          `The nut ${nutRise >= 0 ? "rises" : "sinks"} by ${formatQuantity(Math.abs(nutRise), "mm", 1)} against the body's edge.`,
        ]),
    ...(found === null
      ? []
      : [
          `Relief with the rod slack is ${formatQuantity(found.reliefSlack, "mm", 2)}, wanted ${formatQuantity(found.reliefWanted, "mm", 2)}.`,
          ...rod(found),
          `In the first ${found.firstWeeks.weeks} weeks the action over fret 12 rises by ${formatQuantity(found.firstWeeks.low, "mm", 2)} to ${formatQuantity(found.firstWeeks.high, "mm", 2)} ${found.firstWeeks.withBody ? "by this model" : "by the neck's bend alone"}; ${formatQuantity(found.firstWeeks.customary.low, "mm", 1)} to ${formatQuantity(found.firstWeeks.customary.high, "mm", 1)} is usual (common practice, no source).`,
        ]),
  ];
}

function rod(found: NonNullable<LoadSheetView["neck"]>): readonly string[] {
  const stated =
    found.reliefStated === null || found.statedForce === null
      ? []
      : [
          `With the rod at ${sayForce(found.statedForce)} it is ${formatQuantity(found.reliefStated, "mm", 2)}.`,
        ];
  const wanted =
    found.wantedForce === null ? [] : [`The relief wanted takes ${sayForce(found.wantedForce)} in the rod.`];
  return [...stated, ...wanted];
}

function nearest({ margins }: LoadSheetView): readonly string[] {
  const known = margins.filter((row) => row.margin !== null);
  const unknown = margins.length - known.length;
  const bears = (row: MarginRow) =>
    `${row.part}, ${row.what}: it would bear ${row.margin!.toFixed(1)} times this`;
  const whole = known.filter((row) => !row.peak);
  const peak = known.find((row) => row.peak);
  return [
    ...whole.slice(0, 3).map((row) => `${bears(row)}.`),
    ...(peak === undefined
      ? []
      : [`At a point, ${bears(peak)}; wood and glue give at such a peak before they part.`]),
    ...(unknown === 0
      ? []
      : [
          `Of ${unknown} ${unknown === 1 ? "stress" : "stresses"} no strength is known: no margin is claimed there.`,
        ]),
  ];
}

function years({ creep, load }: LoadSheetView): readonly string[] {
  if (load.bridgeRotation === null) return [];
  const size = Math.abs(load.bridgeRotation);
  return creep.map(
    ({ years: n, range }) =>
      `After ${n} ${n === 1 ? "year" : "years"} the bridge is likely turned by ${sayAngle(size * range.likely)} (${sayAngle(size * range.low)} to ${sayAngle(size * range.high)}).`,
  );
}

function climates(view: LoadSheetView): readonly string[] {
  return view.climates.flatMap((c) => {
    const parts = [
      ...(c.saddleRise === null
        ? []
        : [
            `the top at the saddle ${c.saddleRise >= 0 ? "rises" : "sinks"} ${formatQuantity(Math.abs(c.saddleRise), "mm", 1)}`,
          ]),
      ...(c.actionChange === null
        ? []
        : [
            `the action goes ${c.actionChange >= 0 ? "up" : "down"} ${formatQuantity(Math.abs(c.actionChange), "mm", 1)}`,
          ]),
    ];
    const air = `${(100 * c.relativeHumidity).toFixed(0)} %RH, ${inUnit(c.temperature, "C").toFixed(0)} °C`;
    return parts.length === 0
      ? []
      : [`${c.name.charAt(0).toUpperCase()}${c.name.slice(1)} (${air}): ${parts.join(", ")}.`];
  });
}
