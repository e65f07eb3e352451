/** Shells: a domed, ribbed, layered wooden plate by finite elements: its modes, statics and losses. */
export type {
  EdgeRing,
  EdgeSupport,
  Panel,
  PanelPatch,
  PanelRib,
  PlyMaterial,
  RibMaterial,
  ThicknessField,
  WoodLoss,
} from "./panel.ts";
export type { PanelAnswer, PanelCase } from "./panelCase.ts";
export { motionAt, type PlateModes, panelModes } from "./panelModes.ts";
export {
  footprintRotation,
  type PanelLoad,
  panelStatic,
  pointFlexibility,
  type StaticResult,
} from "./panelStatic.ts";
export { type PanelSystem, panelSystem } from "./panelSystem.ts";
export { readPanelCase } from "./readPanelCase.ts";
export { type RimSide, rimEdge } from "./rimEdge.ts";
export { panelMesh, type ShellMesh } from "./shellMesh.ts";
export { solvePanelCase } from "./solvePanelCase.ts";
