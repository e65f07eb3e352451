/** Every timing, one after the other: npm run timings. */
import { timeEigen } from "./eigen.ts";
import { exteriorTimings } from "./exterior.ts";
import { timeFactor } from "./factor.ts";
import { timeLive } from "./live.ts";
import { timeRefresh } from "./refresh.ts";
import { voiceTimings } from "./voiceStages.ts";

const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};
await voiceTimings(say); // first, as its cold column is only cold in a fresh process
timeFactor(say);
timeEigen(say);
timeRefresh(say);
await timeLive(say);
exteriorTimings(say);
