/** Pipeline: the chain of pure stages from a checked instrument to its geometry, load, voice and report. */
export { type BodySettings, defaultBodySettings } from "./body/bodySettings.ts";
export { stageJobs } from "./body/jobs.ts";
export { type StateReport, stateReport } from "./body/stateReport.ts";
export { madeBody } from "./body/wholeBody.ts";
export { setupCardsView, slotCardsView } from "./cardViews.ts";
export { setupCautions } from "./cautions.ts";
export { alone, type Crew, type JobTable } from "./crew.ts";
export { type InstrumentGeometry, instrumentGeometry } from "./geometry.ts";
export { holdBrace } from "./live/holdBrace.ts";
export { liveEdit, type SettledEdit, settleEdit } from "./live/liveEdit.ts";
export type { BraceMove, LiveChange, LiveFactor, LiveModel, LiveResult } from "./live/liveModel.ts";
export { holeParameter, liveParameters } from "./live/liveParameters.ts";
export { liveShapes } from "./live/liveShapes.ts";
export { type LiveInput, prepareLive, prepareRefreshable, type RefreshableLive } from "./live/prepareLive.ts";
export { tryChange } from "./live/tryChange.ts";
export { warmLive } from "./live/warmLive.ts";
export { computeLoad } from "./load/computeLoad.ts";
export { loadView } from "./load/loadView.ts";
export { type LoadReport, loadReport, loadReportOf, totalPull } from "./load.ts";
export { type NeckReport, neckReport } from "./neck/neckReport.ts";
export { platePanels } from "./platePanels.ts";
export {
  differenceRanges,
  voiceRanges,
} from "./ranges/voiceRanges.ts";
export { type VoiceSamples, voiceSamples } from "./ranges/voiceSamples.ts";
export { type SetupReport, type SetupTuning, setupReport } from "./setup/setupReport.ts";
export { instrumentSketch } from "./sketch/instrumentSketch.ts";
export type * from "./sketch/sketchTypes.ts";
export { type SlotsReport, type StringSlots, slotsReport } from "./slots.ts";
export { type Piece, type PieceKind, piece } from "./sound/pieces.ts";
export { type RenderedPiece, renderPiece } from "./sound/renderPiece.ts";
export { noteTones, type SoundingBody, soundingBody } from "./sound/soundingBody.ts";
export type { Stages } from "./stages.ts";
export { stamp } from "./stamp.ts";
export { type SetString, stringSet } from "./stringSet.ts";
export type { ConstructionRow } from "./strings/constructionRow.ts";
export { type BalanceReport, type StringsReport, stringsReport } from "./strings/stringsReport.ts";
export { type BuildState, buildStates } from "./structure/buildState.ts";
export { strungShell } from "./structure/strungShell.ts";
export { tuningVoiceValidity } from "./tuningBoards.ts";
export { unmarked } from "./unmarked.ts";
export { computeVoice, type Voice, type VoiceReport, voiceReport, withRanges } from "./voice.ts";
export { voiceView } from "./voiceView.ts";
