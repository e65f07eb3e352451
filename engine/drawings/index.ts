/** Drawings: display lists in mm of the sheet, their SVG, the reports of voice and load, and shop cards. */
export type { SetupCardsView, SlotCardsView } from "./cards/cardView.ts";
export { setupCards } from "./cards/setupCards.ts";
export { slotCards } from "./cards/slotCards.ts";
export { marksOf } from "./displayList.ts";
export { loadDrawings, loadReport } from "./loadReport.ts";
export type { LoadSheetView } from "./loadView.ts";
export { modeSheet } from "./modeSheet.ts";
export { noteBoardSheet } from "./noteBoardSheet.ts";
export { svgFile } from "./svg.ts";
export { voiceReport } from "./voiceReport.ts";
export type {
  BoardView,
  BraceView,
  ModeView,
  PlanView,
  PlateMesh,
  RangesView,
  VoiceView,
} from "./voiceView.ts";
