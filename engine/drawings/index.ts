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
