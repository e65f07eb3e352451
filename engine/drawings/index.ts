/** Drawings: display lists in mm of the sheet, their SVG, and the voice report. */
export { marksOf } from "./displayList.ts";
export { modeSheet } from "./modeSheet.ts";
export { noteBoardSheet } from "./noteBoardSheet.ts";
export { voiceReport } from "./voiceReport.ts";
export type { BraceView, ModeView, RangesView, VoiceView } from "./voiceView.ts";
