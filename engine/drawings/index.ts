export type {
  BoardView,
  BraceView,
  LoadView,
  ModeView,
  NoteRow,
  PlanView,
  PlateMesh,
  ResponseView,
  Stamp,
  VoiceView,
} from "./voiceView.ts";
