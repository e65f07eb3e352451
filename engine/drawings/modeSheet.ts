import { antinodes, edgeEased, innerEdges } from "./contours.ts";
import { type Drawing, group, lineMm, type Mark, stroked, words } from "./displayList.ts";
import { extentOf, type Placing, placeOnSheet } from "./placing.ts";
import { plateParts, signMark, tintBands, zeroLine } from "./tintedPlate.ts";
import type { ModeView, PlanView, PlateMesh, VoiceView } from "./voiceView.ts";

const widthMm = 44;
const margin = 1;

/** Shares of the mode's largest motion at which one tint gives way to the next. */
export const bandEdges = [0.08, 0.3, 0.55, 0.8] as const;

/** The inner edges of both plates' meshes: the same for every mode, so a caller that draws many makes them once. */
export interface InnerEdges {
  readonly top: ReadonlySet<number>;
  readonly back: ReadonlySet<number>;
}

export function plateInnerEdges(plates: VoiceView["plates"]): InnerEdges {
  return { top: innerEdges(plates.top), back: innerEdges(plates.back) };
}

/** Near its edge a plate that moves less than this share of its largest motion counts as still. */
const stillShare = 0.05;
/** An antinode weaker than this share of the largest motion bears no sign. */
const leastSigned = 0.15;

/**
 * One body mode as contour bands on top and back, both to the same scale of motion: brown where the plate moves
 * outward, green-blue where it moves inward at that instant, the nodal line in ink, a sign at every antinode. Null if
 * the mode carries no shape or does not move.
 */
export function modeSheet(
  mode: ModeView,
  view: Pick<VoiceView, "plan" | "plates" | "hand">,
  inner: InnerEdges = plateInnerEdges(view.plates),
): Drawing | null {
  const { topMotion, backMotion } = mode;
  if (topMotion === null || backMotion === null) return null;
  const label = (text: string, y: number) =>
    words(text, view.hand === "right" ? margin : widthMm - margin, y, 3.4, {
      anchor: view.hand === "right" ? "start" : "end",
      ink: "soft",
    });
  const largest = Math.max(peak(topMotion), peak(backMotion));
  if (!(largest > 0)) return null;
  const extent = extentOf([view.plan.outline]);
  const mmPerMetre = (widthMm - 2 * margin) / (extent.maxX - extent.minX);
  const drawn = (extent.maxY - extent.minY) * mmPerMetre;
  const at = (y: number) =>
    placeOnSheet(view.hand, extent, { x: margin, y, width: widthMm - 2 * margin, height: drawn }, mmPerMetre);
  const topPlace = at(margin);
  const backPlace = at(margin + drawn + 3);
  // The sign is free: drawn so that the larger motion of the top is outward.
  const sign = Math.sign(extreme(topMotion)) || 1;
  const scaled = (motion: Float64Array) => motion.map((w) => (sign * w) / largest);
  return {
    widthMm,
    heightMm: 2 * margin + 2 * drawn + 3,
    title: `Mode at ${mode.frequencyHz.toFixed(0)} Hz`,
    description: `${say(scaled(topMotion), "top")}; ${say(scaled(backMotion), "back")}.`,
    marks: [
      group("top", plate(view.plates.top, scaled(topMotion), view.plan, topPlace, inner.top, true)),
      group("back", plate(view.plates.back, scaled(backMotion), view.plan, backPlace, inner.back, false)),
      label("top", margin + drawn),
      label("back", margin + 2 * drawn + 3),
    ],
  };
}

function plate(
  mesh: PlateMesh,
  motion: Float64Array,
  plan: PlanView,
  place: Placing,
  inner: ReadonlySet<number>,
  isTop: boolean,
): readonly Mark[] {
  const eased = edgeEased(mesh, motion, stillShare * peak(motion), inner);
  const quiet = peak(motion) < bandEdges[0];
  return [
    ...tintBands(mesh, motion, bandEdges, place, inner),
    ...plateParts(plan, isTop ? "top" : "back", place),
    ...(quiet ? [] : [group("nodal line", zeroLine(mesh, eased, place))]),
    stroked([place.chain(plan.outline)], { ink: "ink", widthMm: lineMm.fine }, true),
    ...signs(mesh, motion, place),
  ];
}

/** + where the plate moves outward, - inward, at the place of most motion of each patch that moves enough to matter. */
function signs(mesh: PlateMesh, motion: Float64Array, place: Placing): readonly Mark[] {
  const marked = antinodes(mesh, motion, bandEdges[0]).filter((n) => Math.abs(motion[n]) >= leastSigned);
  return marked.map((n) => {
    const [x, y] = place.point(mesh.nodes[2 * n], mesh.nodes[2 * n + 1]);
    const strong = Math.abs(motion[n]) >= bandEdges[3];
    return group(motion[n] > 0 ? "outward" : "inward", [
      signMark(motion[n] > 0 ? 1 : -1, x, y, strong ? "paper" : "ink"),
    ]);
  });
}

function say(motion: Float64Array, name: string): string {
  const most = extreme(motion);
  if (Math.abs(most) < bandEdges[0]) return `the ${name} hardly moves`;
  return `the ${name} moves up to ${(Math.abs(most) * 100).toFixed(0)} % of the largest motion, mostly ${most > 0 ? "outward" : "inward"}`;
}

function extreme(values: Float64Array): number {
  return values.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
}

function peak(values: Float64Array): number {
  return Math.abs(extreme(values));
}
