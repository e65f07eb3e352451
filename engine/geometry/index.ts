/** Geometry: curves, body outlines and plates in plan, braces, strings and slots. Lengths in m, angles in rad. */

export { type BattenWeight, bentBatten, type LaidBatten, layBatten } from "./batten.ts";
export { bodyPlan } from "./bodyPlan.ts";
export type {
  BodySpec,
  CutawaySpec,
  DomeSpec,
  HoleSpec,
  OutlineSpec,
} from "./bodySpec.ts";
export type { Brace, BraceSection, HeightProfile } from "./braces/brace.ts";
export { braceHeights } from "./braces/braceHeights.ts";
export { clipBrace } from "./braces/clipBrace.ts";
export { equivalentRectangle, sectionProperties } from "./braces/section.ts";
export { cavityDepth, insideOf } from "./cavity.ts";
export { clipSegment, polygonCrossings, selfCrossings } from "./crossings.ts";
export { curveCurvature, curveLength, curvePoint, type PlaneCurve, sampleCurve } from "./curve.ts";
export { domeHeight } from "./dome.ts";
export { type FairPlace, type FairRest, fairCurve } from "./fairCurve.ts";
export { type FairnessReport, fairness, outlineFairness } from "./fairness.ts";
export { type BoardLayout, boardLayout } from "./frets/boardLayout.ts";
export type { BoardSpec } from "./frets/boardSpec.ts";
export { coneHeight, heightsUnderStrings, unevenUnderStrings } from "./frets/boardSurface.ts";
export { boardToBody, mirrorBoard } from "./frets/boardToBody.ts";
export { type EdgeMargins, edgeMargins } from "./frets/edgeMargins.ts";
export { type HandReach, handReach } from "./frets/handReach.ts";
export { narrowestBand } from "./frets/narrowestBand.ts";
export { slotCuts } from "./frets/slotCuts.ts";
export { holeCurve } from "./hole.ts";
export { mirrorPlan, mirrorPolygon } from "./mirror.ts";
export type { BodyPlan, CutawayReport } from "./plan.ts";
export {
  anticlockwise,
  distanceToPolyline,
  nearestOnPolyline,
  type PlateRegion,
  type Point,
  type Polygon,
  type Polyline,
  pointInPolygon,
  pointInRegion,
  polygonArea,
  polygonBounds,
  polygonCentroid,
  polygonPerimeter,
  polylineLength,
} from "./polygon.ts";
export { polygonDifference, polygonIntersection } from "./polygonCut.ts";
export { type ShapedBy, shapedOutline } from "./shapedOutline.ts";
