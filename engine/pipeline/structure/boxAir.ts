import { type AirProperties, airProperties, type CavitySpec, type ExteriorSpec } from "#engine/air";
import {
  type BodyPlan,
  distanceToPolyline,
  insideOf,
  type Polygon,
  polygonPerimeter,
  sampleCurve,
} from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { done, failed, type Outcome } from "#engine/numerics";
import { standardPressure } from "#engine/units";
import { edgeHeight, rimHeights } from "./rimHeights.ts";

/** How finely the air inside is computed. */
export interface CavitySettings {
  /** Hz: modes of the closed cavity up to here take part one by one, those beyond as a mass. */
  readonly toFrequency: number;
  /** Edge length of the wedges in plan, m. */
  readonly size: number;
  /** Wedges between back and top. */
  readonly layers: number;
}

/** Spacing of the points on the inner face of the sides and round the hole, m. */
const edgeSpacing = 0.004;
const holeSpacing = 0.006;

/** Air of the shop: what the instrument is built and knocked in. */
export function shopAir({ climate }: Build): AirProperties {
  const { temperature, relativeHumidity } = climate.shop;
  return airProperties({ temperature, pressure: standardPressure, relativeHumidity });
}

/** The box of air in the air's terms. Fails where the sides leave no inner face. */
export function cavitySpec(build: Build, plan: BodyPlan, settings: CavitySettings): Outcome<CavitySpec> {
  const { sides, top, back } = build;
  const inside = insideOf(plan.outline, sides.thickness, edgeSpacing);
  if (inside === null) return failed("side-too-thick", "the side is thicker than its tightest bend");
  const { depthAtTail, depthAtNeck, length } = rimHeights(build, plan);
  const face = -top.meanThickness / 2;
  return done({
    outline: inside,
    top: { at: face - edgeHeight(plan, top.dome), perX: 0, dome: top.dome },
    back: {
      at: face - depthAtTail + edgeHeight(plan, back.dome),
      perX: (depthAtTail - depthAtNeck) / length,
      dome: back.dome,
    },
    hole: {
      polygon: wholeHole(plan),
      wall: rimThickness(build, plan),
      scoop: { height: sides.topLining.height, wall: sides.thickness },
    },
    solidVolume: build.body.solidVolume ?? 0,
    wallArea: plan.areas.topTrue + plan.areas.backTrue + sideArea(build, plan),
    leak: 0,
    air: shopAir(build),
    ...settings,
  });
}

/** The outer faces in the air's terms: mid-surfaces of the plates, the outer edge of the sides. */
export function exteriorSpec(build: Build, plan: BodyPlan): ExteriorSpec {
  const { depthAtTail, depthAtNeck, length } = rimHeights(build, plan);
  const { top, back, sides } = build;
  const plates = (top.meanThickness + back.meanThickness) / 2;
  return {
    outline: plan.outlinePolygon,
    hole: { polygon: wholeHole(plan), scoop: plan.holeMeetsEdge ? sides.topLining.height : 0 },
    top: { at: -edgeHeight(plan, top.dome), perX: 0, dome: top.dome },
    back: {
      at: -depthAtTail - plates + edgeHeight(plan, back.dome),
      perX: (depthAtTail - depthAtNeck) / length,
      dome: back.dome,
    },
  };
}

function wholeHole(plan: BodyPlan): Polygon {
  return plan.holeMeetsEdge ? sampleCurve(plan.hole, holeSpacing) : plan.holePolygon;
}

function sideArea(build: Build, plan: BodyPlan): number {
  return ((build.body.depthAtTail + build.body.depthAtNeck) / 2) * polygonPerimeter(plan.outlinePolygon);
}

/**
 * Thickness of the wall round the hole: a lip that swells is thin where it comes nearest to the body's edge and thickest
 * half way round, a full cosine between.
 */
function rimThickness(build: Build, plan: BodyPlan): number | { points: Polygon; thickness: Float64Array } {
  const lip = build.holeLip;
  if (lip === null || lip.swell === null) return build.holeWall;
  const points = plan.holePolygon;
  const n = points.length / 2;
  const along = new Float64Array(n);
  let nearest = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const [x, y] = [points[2 * i]!, points[2 * i + 1]!];
    if (i > 0) along[i] = along[i - 1]! + Math.hypot(x - points[2 * i - 2]!, y - points[2 * i - 1]!);
    const distance = distanceToPolyline(plan.outlinePolygon, x, y, true);
    if (distance < least) {
      least = distance;
      nearest = i;
    }
  }
  const round = polygonPerimeter(points);
  const { thickness, swell } = lip;
  return {
    points,
    thickness: along.map(
      (s) =>
        thickness + ((swell - thickness) * (1 - Math.cos((2 * Math.PI * (s - along[nearest]!)) / round))) / 2,
    ),
  };
}
