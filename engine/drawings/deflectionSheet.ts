import { formatQuantity } from "#engine/units";
import { edgeEased, innerEdges } from "./contours.ts";
import { box, type Drawing, filled, group, lineMm, type Mark, stroked, words } from "./displayList.ts";
import type { LoadSheetView } from "./loadView.ts";
import { extentOf, type Placing, placeOnSheet } from "./placing.ts";
import { sayScale, scaleBar } from "./scaleBar.ts";
import {
  type BandEdges,
  extremesOf,
  plateParts,
  roundEdges,
  signMark,
  tintBands,
  zeroLine,
} from "./tintedPlate.ts";
import { valueFlag } from "./valueFlag.ts";

const widthMm = 186;
const margin = 3;
const keyWidth = 38;
/** Near its edge a top that moves less than this share of its largest rise counts as still. */
const stillShare = 0.05;

/**
 * What the strings do to the top, on its plan: brown where it rises, green-blue where it sinks, the line that stays between them,
 * a sign and the figure at the highest and the lowest place. Null if nothing moves.
 */
export function deflectionSheet(view: Pick<LoadSheetView, "plan" | "hand" | "deflection">): Drawing | null {
  const { plan, hand, deflection } = view;
  const { mesh, rise } = deflection;
  const { most, least } = extremesOf(mesh, rise);
  const largest = Math.max(Math.abs(rise[most]), Math.abs(rise[least]));
  if (!(largest > 0)) return null;
  const edges = roundEdges(largest);
  const inner = innerEdges(mesh);
  const extent = extentOf([plan.outline, plan.hole]);
  const mmPerMetre = (widthMm - 2 * margin - keyWidth) / (extent.maxX - extent.minX);
  const height = (extent.maxY - extent.minY) * mmPerMetre;
  const place = placeOnSheet(
    hand,
    extent,
    { x: margin, y: margin, width: widthMm - 2 * margin - keyWidth, height },
    mmPerMetre,
  );
  return {
    widthMm,
    heightMm: height + 2 * margin + 10,
    title: "Rise of the top under the strings",
    description: `The top from the front at ${sayScale(mmPerMetre)}: it rises ${sayMillimetres(rise[most])} at most and sinks ${sayMillimetres(-rise[least])} at most, against its edge.`,
    marks: [
      group("tints", tintBands(mesh, rise, edges, place, inner)),
      group("stays", zeroLine(mesh, edgeEased(mesh, rise, stillShare * largest, inner), place)),
      ...plateParts(plan, "top", place),
      stroked([place.chain(plan.outline)], { ink: "ink", widthMm: lineMm.medium }, true),
      ...peak(view, most, place),
      ...peak(view, least, place),
      ...key(edges, widthMm - margin - keyWidth + 6, margin + 8),
      scaleBar(margin + 1, height + 2 * margin + 2, 100, mmPerMetre),
    ],
  };
}

function peak(
  { deflection: { mesh, rise } }: Pick<LoadSheetView, "deflection">,
  node: number,
  place: Placing,
): readonly Mark[] {
  const value = rise[node];
  if (value === 0) return [];
  const at = place.point(mesh.nodes[2 * node], mesh.nodes[2 * node + 1]);
  const text = `${value > 0 ? "+" : "−"}${sayMillimetres(Math.abs(value))}`;
  return [group(value > 0 ? "highest" : "lowest", valueFlag(text, at, 3.6, "above", [widthMm, widthMm]))];
}

/** Tints with their edges in mm, the strongest rise above. */
function key(edges: BandEdges, x: number, y: number): readonly Mark[] {
  const row = 6;
  const swatch = (
    i: number,
    ink: `out${1 | 2 | 3 | 4}` | `in${1 | 2 | 3 | 4}`,
    sign: "+" | "−",
    k: number,
  ): Mark =>
    group("key", [
      filled([box(x, y + i * row, 7, row - 1)], ink, { ink: "soft", widthMm: lineMm.hair }),
      words(`over ${sign}${formatQuantity(edges[k], "mm", places(edges))}`, x + 9, y + i * row + 3.6, 3.4),
    ]);
  const tints = [1, 2, 3, 4] as const;
  return [
    words("rises", x, y - 2, 3.4, { ink: "soft" }),
    signMark(1, x + 12, y - 3, "ink"),
    ...[...tints].reverse().map((t, i) => swatch(i, `out${t}`, "+", t - 1)),
    group("key", [
      stroked([Float64Array.of(x, y + 4.5 * row - 0.5, x + 7, y + 4.5 * row - 0.5)], {
        ink: "ink",
        widthMm: lineMm.medium,
      }),
      words("stays", x + 9, y + 4.5 * row + 0.6, 3.4),
    ]),
    ...tints.map((t, i) => swatch(5 + i, `in${t}`, "−", t - 1)),
    words("sinks", x, y + 9 * row + 3.4, 3.4, { ink: "soft" }),
    signMark(-1, x + 12, y + 9 * row + 2.3, "ink"),
  ];
}

/** Decimals that tell the weakest edge. */
function places(edges: BandEdges): number {
  return Math.max(1, Math.min(3, Math.ceil(-Math.log10(edges[0] * 1000))));
}

function sayMillimetres(length: number): string {
  return formatQuantity(length, "mm", 2);
}
