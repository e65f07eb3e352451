/** Notes: every string and fret on the computed body, solved as one damped system. */
export type {
  Blame,
  BoardString,
  Evenness,
  NoteBoard,
  NoteBoardInput,
  NoteRow,
  PartialRow,
  WorstNote,
} from "./board.ts";
export type { BridgeModes } from "./bridgeModes.ts";
export { type CoupledModes, coupledString } from "./coupledString.ts";
export { noteBoard } from "./noteBoard.ts";
export { readStringCase, type StringCase, type StringCaseResult, solveStringCase } from "./stringCase.ts";
export { couplingStrength, type WolfRisk, wolfIndex } from "./wolfIndex.ts";
