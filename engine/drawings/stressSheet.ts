import { formatQuantity } from "#engine/units";
import { type Drawing, group, lineMm, type Mark, stroked, words } from "./displayList.ts";
import type { LoadSheetView, StressMapView } from "./loadView.ts";
import { extentOf, type Placing, placeOnSheet } from "./placing.ts";
import { type BandEdges, extremesOf, plateParts, tintBands } from "./tintedPlate.ts";
import { valueFlag } from "./valueFlag.ts";

const widthMm = 60;
const margin = 1;

export type StressDirection = "along" | "across";
export type PlateFace = "outside" | "inside";

/** One stress of a map by node, Pa. */
export function stressOf(
  { stress }: StressMapView,
  direction: StressDirection,
  face: PlateFace,
): Float64Array {
  const from = (direction === "along" ? 0 : 1) + (face === "inside" ? 0 : 3);
  return Float64Array.from({ length: stress.length / 6 }, (_, n) => stress[6 * n + from]);
}

/**
 * One stress of a plate at one of its faces: brown where it is pulled, green-blue where it is pressed, the greatest of either
 * flagged with its figure in MPa; a small double arrow runs along the grain.
 */
export function stressSheet(
  map: StressMapView,
  direction: StressDirection,
  face: PlateFace,
  view: Pick<LoadSheetView, "plan" | "hand">,
  edges: BandEdges,
  inner: ReadonlySet<number>,
): Drawing {
  const values = stressOf(map, direction, face);
  const extent = extentOf([view.plan.outline]);
  const mmPerMetre = (widthMm - 2 * margin) / (extent.maxX - extent.minX);
  const height = (extent.maxY - extent.minY) * mmPerMetre;
  const place = placeOnSheet(
    view.hand,
    extent,
    { x: margin, y: margin, width: widthMm - 2 * margin, height },
    mmPerMetre,
  );
  const { most, least } = extremesOf(map.mesh, values);
  return {
    widthMm,
    heightMm: height + 2 * margin + 4,
    title: `Stress ${direction} the grain, ${face} face of the ${map.plate}`,
    description: `${sayPeak(values[most], "pulled")}, ${sayPeak(values[least], "pressed")}.`,
    marks: [
      group("tints", tintBands(map.mesh, values, edges, place, inner)),
      ...plateParts(view.plan, map.plate, place),
      stroked([place.chain(view.plan.outline)], { ink: "ink", widthMm: lineMm.fine }, true),
      ...grain(map, place, view, height),
      ...flags(map, values, { most, least }, place, height + 2 * margin),
    ],
  };
}

function sayPeak(stress: number, how: "pulled" | "pressed"): string {
  const any = how === "pulled" ? stress > 0 : stress < 0;
  return any ? `${how} with ${formatQuantity(Math.abs(stress), "MPa", 1)} at most` : `nowhere ${how}`;
}

/** The upper of the two places bears its flag above, the lower below: they never cover each other. */
function flags(
  map: StressMapView,
  values: Float64Array,
  { most, least }: { readonly most: number; readonly least: number },
  place: Placing,
  height: number,
): readonly Mark[] {
  const at = (node: number) => place.point(map.mesh.nodes[2 * node], map.mesh.nodes[2 * node + 1]);
  const upper = at(most)[1] < at(least)[1] ? most : least;
  return [least, most].flatMap((node) => {
    const stress = values[node];
    if (stress === 0) return [];
    const text = `${stress > 0 ? "+" : "−"}${(Math.abs(stress) / 1e6).toFixed(1)}`;
    return [
      group(
        stress > 0 ? "most pulled" : "most pressed",
        valueFlag(text, at(node), 3.2, node === upper ? "above" : "below", [widthMm, height]),
      ),
    ];
  });
}

/** A double arrow along the grain in the corner under the tail. */
function grain(
  { grainAngle, plate }: StressMapView,
  place: Placing,
  { hand }: Pick<LoadSheetView, "hand">,
  height: number,
): readonly Mark[] {
  const [x0, y0] = place.point(0, 0);
  const [x1, y1] = place.point(Math.cos(grainAngle), Math.sin(grainAngle));
  const size = 4.5 / Math.hypot(x1 - x0, y1 - y0);
  const [dx, dy] = [(x1 - x0) * size, (y1 - y0) * size];
  const at = [hand === "right" ? widthMm - margin - 6 : margin + 6, height + margin - 1];
  const wing = (way: 1 | -1, side: 1 | -1) =>
    Float64Array.of(
      at[0] + way * dx,
      at[1] + way * dy,
      at[0] + way * (dx * 0.7 + side * dy * 0.25),
      at[1] + way * (dy * 0.7 - side * dx * 0.25),
    );
  return [
    group("grain", [
      stroked(
        [
          Float64Array.of(at[0] - dx, at[1] - dy, at[0] + dx, at[1] + dy),
          wing(1, 1),
          wing(1, -1),
          wing(-1, 1),
          wing(-1, -1),
        ],
        { ink: "ink", widthMm: lineMm.fine },
      ),
      words("grain", at[0], at[1] + 4.6, 3.2, { anchor: "middle", ink: "soft" }),
    ]),
    words(plate, hand === "right" ? margin : widthMm - margin, height + margin + 3.4, 3.2, {
      anchor: hand === "right" ? "start" : "end",
      ink: "soft",
    }),
  ];
}
