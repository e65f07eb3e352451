/** Drawings: display lists in mm of the sheet, their SVG, and the voice report. */
export {
  type Drawing,
  type GroupMark,
  type Mark,
  marksOf,
  type PathMark,
  type TextMark,
} from "./displayList.ts";
export { modeSheet } from "./modeSheet.ts";
export { noteBoardSheet } from "./noteBoardSheet.ts";
export { planSheet } from "./planSheet.ts";
export { responseChart } from "./responseChart.ts";
export { svgElement, svgFile } from "./svg.ts";
export { voiceReport } from "./voiceReport.ts";
export type {
  BoardView,
  BraceView,
  LoadView,
  ModeView,
  PlanView,
  PlateMesh,
  Stamp,
  VoiceView,
} from "./voiceView.ts";
