import { antinodes, edgeEased, innerEdges, levelLines, regionAbove, thinned } from "./contours.ts";
import { type Drawing, filled, group, lineMm, type Mark, stroked, words } from "./displayList.ts";
import type { Ink } from "./inks.ts";
import { extentOf, type Placing, placeOnSheet } from "./placing.ts";
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
/** Nodal lines shorter than this on the sheet are noise of the mesh, mm. */
const shortestLineMm = 3;

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
  const tolerance = 0.05 / place.mmPerMetre;
  const drawn = (chains: readonly Float64Array[]) => chains.map((c) => place.chain(thinned(c, tolerance)));
  const inward = motion.map((w) => -w);
  const bands = bandEdges.flatMap((edge, i) => {
    const tint = (i + 1) as 1 | 2 | 3 | 4;
    return [
      band(drawn(regionAbove(mesh, motion, edge, inner)), `out${tint}`),
      band(drawn(regionAbove(mesh, inward, edge, inner)), `in${tint}`),
    ];
  });
  const nodal = levelLines(mesh, edgeEased(mesh, motion, stillShare * peak(motion), inner), 0);
  const parts = plan.braces.filter((b) => (b.plate === "top") === isTop).map((b) => place.chain(b.path));
  const quiet = peak(motion) < bandEdges[0];
  return [
    ...bands.flat(),
    stroked(parts, { ink: "soft", widthMm: lineMm.hair, dashMm: [1.2, 0.6] }),
    ...(isTop
      ? [
          stroked([place.chain(plan.hole)], { ink: "ink", widthMm: lineMm.thin }, true),
          stroked([place.chain(plan.bridge)], { ink: "ink", widthMm: lineMm.thin }, true),
        ]
      : []),
    ...(quiet
      ? []
      : [
          group("nodal line", [
            stroked(drawn(nodal.open).filter(longEnough), { ink: "ink", widthMm: lineMm.medium }),
            stroked(drawn(nodal.rings).filter(longEnough), { ink: "ink", widthMm: lineMm.medium }, true),
          ]),
        ]),
    stroked([place.chain(plan.outline)], { ink: "ink", widthMm: lineMm.fine }, true),
    ...signs(mesh, motion, place),
  ];
}

function longEnough(chain: Float64Array): boolean {
  let length = 0;
  for (let i = 2; i < chain.length; i += 2)
    length += Math.hypot(chain[i] - chain[i - 2], chain[i + 1] - chain[i - 1]);
  return length >= shortestLineMm;
}

function band(pieces: readonly Float64Array[], ink: Ink): readonly Mark[] {
  return pieces.length === 0 ? [] : [group(`band ${ink}`, [filled(pieces, ink)])];
}

/** + where the plate moves outward, - inward, at the place of most motion of each patch that moves enough to matter. */
function signs(mesh: PlateMesh, motion: Float64Array, place: Placing): readonly Mark[] {
  const arm = 1.3;
  const marked = antinodes(mesh, motion, bandEdges[0]).filter((n) => Math.abs(motion[n]) >= leastSigned);
  return marked.map((n) => {
    const [x, y] = place.point(mesh.nodes[2 * n], mesh.nodes[2 * n + 1]);
    const level = Float64Array.of(x - arm, y, x + arm, y);
    const upright = Float64Array.of(x, y - arm, x, y + arm);
    const strong = Math.abs(motion[n]) >= bandEdges[3];
    return group(motion[n] > 0 ? "outward" : "inward", [
      stroked(motion[n] > 0 ? [level, upright] : [level], {
        ink: strong ? "paper" : "ink",
        widthMm: lineMm.bold,
      }),
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
