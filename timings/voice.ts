/** The stages of `voice` alone: node tools/run.mjs timings/voice.ts. */
import { voiceTimings } from "./voiceStages.ts";

await voiceTimings((line) => {
  process.stdout.write(`${line}\n`);
});
