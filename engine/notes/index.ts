/** Notes: every string and fret on the computed body, solved as one damped system. */
export type { BoardString, NoteBoard, NoteRow } from "./board.ts";
export type { BridgeModes } from "./bridgeModes.ts";
export { type CoupledModes, coupledString } from "./coupledString.ts";
export { noteBoard } from "./noteBoard.ts";
export { readStringCase, type StringCase, solveStringCase } from "./stringCase.ts";
export { couplingStrength, wolfIndex } from "./wolfIndex.ts";
