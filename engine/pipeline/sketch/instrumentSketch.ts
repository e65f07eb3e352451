import {
  curvePoint,
  distanceToPolyline,
  domeHeight,
  fairness,
  insideOf,
  type PlaneCurve,
  type Polygon,
  sampleCurve,
} from "#engine/geometry";
import type { Build, BuildLining, CheckedInstrument } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import { type InstrumentGeometry, instrumentGeometry } from "../geometry.ts";
import { boardLine, neckSize } from "../structure/neckBeam.ts";
import { edgeHeight, rimHeights } from "../structure/rimHeights.ts";
import { sketchPlate } from "./sketchPlate.ts";
import type {
  InstrumentSketch,
  SketchBlock,
  SketchBridge,
  SketchCutaway,
  SketchLining,
  SketchNeck,
  SketchSides,
} from "./sketchTypes.ts";

/** Distance of the points of edges that are drawn, m: within 0.05 mm of the curve, which shows at no scale. */
const drawnSpacing = 0.0025;
/** Distance of the points of inner edges, and of a cutaway's edge, m. */
const spacing = 0.004;
/** Stations along the neck at which its depth is told. */
const neckStations = 9;

/**
 * Everything that plan, sections and side view are drawn from and worked on. Quick (some 0.1 s): no finite elements. Fails as
 * `instrumentGeometry` does.
 */
export function instrumentSketch(
  checked: Extract<CheckedInstrument, { ok: true }>,
): Outcome<InstrumentSketch> {
  const { build, document, plan } = checked;
  const laid = instrumentGeometry(build, plan);
  if (!laid.ok) return laid;
  const geometry = laid.value;
  const outline = sampleCurve(plan.outline, drawnSpacing);
  const holeEdge = sampleCurve(plan.hole, drawnSpacing);
  return done({
    name: build.name,
    hand: build.body.hand,
    length: plan.length,
    shape: { outline: build.body.outline, cutaway: build.body.cutaway, hole: build.body.hole },
    outline,
    fullOutline: plan.cutaway === null ? outline : sampleCurve(plan.fullOutline, drawnSpacing),
    cutaway: cutaway(geometry),
    hole: {
      edge: holeEdge,
      inside: plan.holeMeetsEdge ? plan.holePolygon : holeEdge,
      meetsEdge: plan.holeMeetsEdge,
      lip: build.holeLip,
    },
    openEdge: plan.openEdge,
    top: sketchPlate("top", document.top, build, plan),
    back: sketchPlate("back", document.back, build, plan),
    bridge: bridge(build),
    bridgePlate:
      build.bridgePlate === null
        ? null
        : {
            path: build.bridgePlate.documentPath,
            name: build.bridgePlate.name,
            polygon: build.bridgePlate.polygon,
            thickness: build.bridgePlate.thickness,
          },
    sides: sides(build, geometry),
    blocks: blocks(build),
    rods: build.rods.map((rod, i) => ({
      path: `rods[${i}]`,
      name: document.rods?.[i]?.name ?? `rod ${i + 1}`,
      from: rod.from,
      to: rod.to,
      diameter: rod.diameter,
    })),
    board: geometry.board,
    neck: neck(build, geometry),
    strings: strings(build, geometry),
    fairness: { outline: fairness(plan, "outline"), hole: fairness(plan, "hole") },
    areas: { plan: plan.areas.plan, top: plan.areas.top, hole: plan.areas.hole },
    grossVolume: plan.grossVolume,
    netVolume: plan.netVolume,
  });
}

function cutaway({ plan }: InstrumentGeometry): SketchCutaway | null {
  if (plan.cutaway === null) return null;
  const { side, places, from, to } = plan.cutaway;
  const steps = Math.max(2, Math.ceil((to - from) / spacing));
  const edge = Array.from({ length: steps + 1 }, (_, i) =>
    curvePoint(plan.outline, from + ((to - from) * i) / steps),
  );
  return { side, places, edge: Float64Array.from(edge.flat()) };
}

function bridge(build: Build): SketchBridge {
  const { polygon, patches, thickness, saddleLine } = build.bridge;
  return {
    polygon,
    parts: patches.map((patch) => ({ polygon: patch.polygon, thickness: patch.thickness })),
    thickness,
    saddle: saddleLine,
    saddleWidth: build.saddle.width,
    crownHeight: build.saddle.crownHeight,
  };
}

function sides(build: Build, { plan }: InstrumentGeometry): SketchSides {
  const { thickness, topLining, backLining } = build.sides;
  const { depthAtTail, depthAtNeck } = rimHeights(build, plan);
  const lining = ({ width, height }: BuildLining): SketchLining => ({
    width,
    height,
    edge: insideEdge(plan.outline, thickness + width),
  });
  return {
    thickness,
    depthAtTail: build.body.depthAtTail,
    depthAtNeck: build.body.depthAtNeck,
    rim: { depthAtTail, depthAtNeck },
    inside: insideEdge(plan.outline, thickness),
    topLining: lining(topLining),
    backLining: lining(backLining),
  };
}

/** The outline moved inward; where it bends too tightly for that, what would fold over is left out. */
function insideEdge(outline: PlaneCurve, distance: number): Polygon {
  const whole = insideOf(outline, distance, spacing);
  if (whole !== null) return whole;
  const edge = sampleCurve(outline, spacing);
  const n = edge.length / 2;
  const kept: number[] = [];
  for (let i = 0; i < n; i++) {
    const [a, b] = [(i - 1 + n) % n, (i + 1) % n];
    const [dx, dy] = [edge[2 * b]! - edge[2 * a]!, edge[2 * b + 1]! - edge[2 * a + 1]!];
    const length = Math.hypot(dx, dy);
    const x = edge[2 * i]! - (distance * dy) / length;
    const y = edge[2 * i + 1]! + (distance * dx) / length;
    if (distanceToPolyline(edge, x, y, true) > 0.97 * distance) kept.push(x, y);
  }
  return Float64Array.from(kept);
}

function blocks(build: Build): readonly SketchBlock[] {
  const paths = ["blocks.neck", "blocks.tail"];
  return build.rimParts
    .filter(({ kind }) => kind === "block")
    .map(({ name, centre, size }, i) => ({
      path: paths[i] ?? `blocks.others[${i - paths.length}]`,
      name,
      centre,
      size,
    }));
}

function neck(build: Build, geometry: InstrumentGeometry): SketchNeck {
  const { from, to, end } = boardLine(build, geometry);
  const length = to[0] - from[0];
  const { head, joinFret, pitch, boardThickness, fretHeight, boardClear } = build.neck;
  return {
    joinFret,
    pitch,
    boardFrom: [from[0], from[2]],
    boardTo: [to[0], to[2]],
    boardEnd: end,
    boardThickness,
    fretHeight,
    depths: Array.from({ length: neckStations }, (_, i) => {
      const along = (length * i) / (neckStations - 1);
      return { x: from[0] + along, depth: neckSize(build, length, length - along).deep };
    }),
    head: { angle: head.angle, length: head.length, thickness: head.thickness },
    boardClear,
  };
}

function strings(build: Build, geometry: InstrumentGeometry): InstrumentSketch["strings"] {
  const { from, to } = boardLine(build, geometry);
  const edge = edgeHeight(geometry.plan, build.top.dome);
  return build.strings.map(({ string, note, crown: [x, y, height], nut }) => {
    const s = (nut[0] - from[0]) / (to[0] - from[0]);
    const z = from[2] + (to[2] - from[2]) * s + build.neck.fretHeight;
    return {
      string,
      note,
      crown: [x, y, domeHeight(build.top.dome, x, y) - edge + height],
      nut: [nut[0], nut[1], z],
    };
  });
}
