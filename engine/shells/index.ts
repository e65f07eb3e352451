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
export { type PanelAnswer, type PanelCase, readPanelCase, solvePanelCase } from "./panelCase.ts";
export { motionAt, type PlateModes, panelModes } from "./panelModes.ts";
export { type PanelLoad, panelStatic, pointFlexibility, type StaticResult } from "./panelStatic.ts";
export { type PanelSystem, panelSystem } from "./panelSystem.ts";
export { type RimSide, rimEdge } from "./rimEdge.ts";
export { panelMesh, type ShellMesh } from "./shellMesh.ts";
