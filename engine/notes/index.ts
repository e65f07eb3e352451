/** Notes: every string and fret on the computed body, solved as one damped system. */

export type { NoteBoard, NoteRow } from "./board.ts";
export { type BoardAnchor, boardAnchor } from "./boardAnchor.ts";
export type { BoardString } from "./boardString.ts";
export type { BridgeModes } from "./bridgeModes.ts";
export { commonGain, loudest, loudnessLimits } from "./commonGain.ts";
export { coupledAtBothEnds } from "./coupledAtBothEnds.ts";
export { type CoupledModes, coupledString } from "./coupledString.ts";
export type { FarEnd } from "./endsSystem.ts";
export { evenness as boardEvenness } from "./evenness.ts";
export { noteBoard } from "./noteBoard.ts";
export type { NoteBoardInput } from "./noteBoardInput.ts";
export { deadFrom, isDead, isWolf, wolfFrom } from "./noteMarks.ts";
export { boardPluck, type NotePluck, type NoteTones, noteTones as tonesOfNote } from "./noteTones.ts";
export { type ReadyBoard, readyBoard } from "./readyNote.ts";
export { defaultRender, renderNotes } from "./renderNotes.ts";
export { readStringCase, type StringCase, solveStringCase } from "./stringCase.ts";
export { couplingStrength, wolfIndex } from "./wolfIndex.ts";
