/** Pipeline: the chain of pure stages from a checked instrument to its geometry, load, voice and report. */
export { type InstrumentGeometry, instrumentGeometry } from "./geometry.ts";
export { type LoadReport, loadReport } from "./load.ts";
export { platePanels } from "./platePanels.ts";
export { type SlotsReport, slotsReport } from "./slots.ts";
export { defaultBodySettings, meshSize } from "./soundBody.ts";
export { type SetString, stringSet } from "./stringSet.ts";
export { computeVoice, type Voice, type VoiceReport, voiceReport } from "./voice.ts";
export { voiceView } from "./voiceView.ts";
