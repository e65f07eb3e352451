/** Shells: domed, ribbed, layered plates and the whole body made of them by finite elements: modes, statics, buckling, losses. */

export { bodyMesh, joinMeshes } from "./body/bodyMesh.ts";
export type {
  BodyMesh,
  BodyModes,
  BodyPiece,
  BodySystem,
  SpringTerm,
} from "./body/bodyModel.ts";
export { bodyModes } from "./body/bodyModes.ts";
export type {
  BlockSpec,
  BodyShellSpec,
  LiningSpec,
  NeckSpec,
  NeckStation,
  PointMassSpec,
  PointRef,
  SidesSpec,
} from "./body/bodySpec.ts";
export { bodySystem, joinedSystem } from "./body/bodySystem.ts";
export { bodyBuckling } from "./body/bucklingBody.ts";
export { bucklingFactors } from "./body/bucklingFactors.ts";
export { bodyForces } from "./body/geometricForces.ts";
export { bodyGeometric } from "./body/geometricStiffness.ts";
export { loadedSystem, strungBody, strungUnder } from "./body/geometricStrung.ts";
export { type ClimateChange, grownBody } from "./body/growth/grownBody.ts";
export { growthLoad } from "./body/growth/growthLoad.ts";
export { bodyAnalysis, joinedModes, type ModesTask, modeSlice, modesTask } from "./body/modeSlice.ts";
export { partOfNode } from "./body/partOfNode.ts";
export { plateMesh, type SeatedPlate } from "./body/plateMesh.ts";
export { platePiece } from "./body/platePiece.ts";
export { pointRows } from "./body/pointRows.ts";
export { type StringLoadFigures, stringLoadFigures } from "./body/staticFigures.ts";
export { type BodyLoad, type StringPull, stringLoads } from "./body/staticLoads.ts";
export { bodyStatic } from "./body/staticSolution.ts";
export {
  bodyGauge,
  bodyStrains,
  bodyStress,
  bodyStressMaps,
} from "./body/stress/bodyStress.ts";
export { type BucklePlace, bucklePlace } from "./body/stress/bucklePlace.ts";
export { bondEdge } from "./body/stress/glueEdge.ts";
export { type GlueLine, glueLine } from "./body/stress/glueLine.ts";
export type { GlueLineSpec } from "./body/stress/glueSpec.ts";
export { nodalStrains } from "./body/stress/nodalStrains.ts";
export type {
  BodyStress,
  PlacedStress,
  RibStress,
  SheetStress,
} from "./body/stress/stressTypes.ts";
export { actionChanges, type BodyAnswer, summedAnswers, tuningLoad, unitAnswers } from "./body/tuningLoad.ts";
export {
  compositeSection,
  rectangleLayer,
} from "./neck/compositeSection.ts";
export {
  type BentNeck,
  type NeckBeam,
  type NeckPull,
  type NeckTendon,
  neckBending,
} from "./neck/neckBending.ts";
export { reliefOver } from "./neck/reliefOver.ts";
export { backDepth, type RoundBack, roundBackLayer } from "./neck/roundBack.ts";
export type {
  EdgeSupport,
  Movement,
  Panel,
  PanelFilm,
  PanelPatch,
  PanelRib,
  PlyMaterial,
  ThicknessField,
} from "./panel.ts";
export { panelModes } from "./panelModes.ts";
export { panelForces, panelGeometric } from "./panelPrestress.ts";
export { panelStatic } from "./panelStatic.ts";
export { type PanelSystem, panelSystem } from "./panelSystem.ts";
export { readPanelCase } from "./readPanelCase.ts";
export { activeColumns, changedMatrix, type WeighedTerm } from "./reduced/activeColumns.ts";
export { type BodyPart, bodyChange, type OwnLaminates, ownLaminates } from "./reduced/bodyChange.ts";
export { changedMatrices } from "./reduced/changedMatrices.ts";
export { heldGround } from "./reduced/heldGround.ts";
export { type HeldRib, heldRib, laidTerm, ribParameter, trimmedToRib } from "./reduced/heldRib.ts";
export { type ReducedBody, reduceAround, reduceBody } from "./reduced/reduceBody.ts";
export type {
  NominalModes,
  ReducedModel,
  ReducedSolution,
} from "./reduced/reducedModel.ts";
export { ribGround } from "./reduced/ribGround.ts";
export { solveReduced } from "./reduced/solveReduced.ts";
export { panelMesh, type ShellMesh } from "./shellMesh.ts";
export { solvePanelCase } from "./solvePanelCase.ts";
