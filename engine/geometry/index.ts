/** Geometry: curves, body outlines and plates in plan, braces, strings and slots. Lengths in m, angles in rad. */

export { bodyPlan } from "./bodyPlan.ts";
export type {
  BodySpec,
  CutawaySpec,
  DomeSpec,
  HoleSpec,
  OutlineDimensions,
  OutlinePoints,
  OutlineSpec,
  PlaceShift,
  SideShift,
  WidthAt,
} from "./bodySpec.ts";
export type { Brace, BracePath, BraceSection, HeightProfile } from "./braces/brace.ts";
export { braceHeight, braceHeights } from "./braces/braceHeights.ts";
export { type BracePiece, clipBrace } from "./braces/clipBrace.ts";
export { equivalentRectangle, type SectionProperties, sectionProperties } from "./braces/section.ts";
export { cavityDepth } from "./cavity.ts";
export { clipSegment, polygonCrossings, selfCrossings } from "./crossings.ts";
export {
  curveCurvature,
  curveLength,
  curvePoint,
  curveTangent,
  type PlaneCurve,
  sampleCurve,
} from "./curve.ts";
export { domeHeight, domeSlope } from "./dome.ts";
export { type FairMeasure, type FairPlace, fairCurve } from "./fairCurve.ts";
export { type FairnessFinding, type FairnessReport, fairness } from "./fairness.ts";
export {
  type BoardLayout,
  type BoardLine,
  boardLayout,
  type FretSlot,
  type StringPath,
} from "./frets/boardLayout.ts";
export type { BoardSpec, Temperament } from "./frets/boardSpec.ts";
export { boardOrigin, boardToBody, mirrorBoard } from "./frets/boardToBody.ts";
export { mirrorDome, mirrorPlan, mirrorPoint, mirrorPolygon, mirrorPolyline } from "./mirror.ts";
export type { BodyAreas, BodyPlan, CutawayPlace, CutawayReport } from "./plan.ts";
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
  resamplePolygon,
  reversedPolygon,
} from "./polygon.ts";
export { type PolygonCut, polygonDifference, polygonIntersection } from "./polygonCut.ts";
