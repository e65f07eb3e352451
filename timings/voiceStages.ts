/**
 * Where the time of `voice` on example A goes: each stage alone in this process, cold (first call in a fresh process) and warm,
 * and the whole command in a fresh process with its two workers. Times are of this machine in this run; nothing asserts on them.
 */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { voiceReport as voiceSheet } from "#engine/drawings";
import { checkInstrument } from "#engine/instrument";
import { type Context, type Outcome, opened, quiet } from "#engine/numerics";
import {
  alone,
  computeVoice,
  instrumentGeometry,
  stageJobs,
  stringSet,
  type Voice,
  voiceReport,
  voiceView,
} from "#engine/pipeline";
import { wasmKernels } from "#kernels";

const path = fileURLToPath(new URL("../examples/low-radial.fairbout.json", import.meta.url));
type Seconds = Map<string, number>;

function timed<T>(seconds: Seconds, name: string, run: () => T): T {
  const begun = performance.now();
  const value = run();
  seconds.set(name, (seconds.get(name) ?? 0) + (performance.now() - begun) / 1000);
  return value;
}

/** The stages, each telling its time. */
function timedJobs(seconds: Seconds): typeof stageJobs {
  const entries = Object.entries(stageJobs).map(([kind, job]) => [
    kind,
    (input: never, ctx: Context): Outcome<unknown> => timed(seconds, `  ${kind}`, () => job(input, ctx)),
  ]);
  return Object.fromEntries(entries) as typeof stageJobs;
}

/** Seconds of each stage in one pass over the whole job, in order. */
async function onePass(): Promise<{ readonly seconds: Seconds; readonly voice: Voice }> {
  const seconds: Seconds = new Map();
  const checked = timed(seconds, "read, check, realise, plan", () =>
    checkInstrument(readFileSync(path, "utf8")),
  );
  if (!checked.ok) throw new Error("example A does not pass its own check");
  const geometry = timed(seconds, "board", () => opened(instrumentGeometry(checked.build, checked.plan)));
  const strings = opened(stringSet(checked.build));
  const begun = performance.now();
  const crew = alone(timedJobs(seconds));
  let stage = "";
  let since = begun;
  const stages = {
    stage: (title: string): Context => {
      const now = performance.now();
      if (stage !== "") seconds.set(`from "${stage}" on`, (now - since) / 1000);
      stage = title;
      since = now;
      return { ...quiet, kernels: wasmKernels };
    },
  };
  const voice = opened(await computeVoice(checked.build, geometry, strings, crew, undefined, stages));
  seconds.set(`from "${stage}" on`, (performance.now() - since) / 1000);
  seconds.set("the voice, one thread", (performance.now() - begun) / 1000);
  timed(seconds, "JSON", () => JSON.stringify(voiceReport(voice)));
  timed(seconds, "report", () => voiceSheet(voiceView(voice)));
  return { seconds, voice };
}

/** Wall-clock seconds and greatest memory (MB) of the whole command in a fresh process; the bundle is made beforehand. */
function wholeCommand(): { readonly seconds: number; readonly megabytes: number } {
  const begun = performance.now();
  const run = spawnSync(process.execPath, [fileURLToPath(new URL("coldVoice.mjs", import.meta.url)), path], {
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  const seconds = (performance.now() - begun) / 1000;
  const megabytes = Number(/peak ([0-9.]+) MB/.exec(run.stderr)?.[1]);
  if (run.status === 2 || !Number.isFinite(megabytes)) throw new Error(run.stderr);
  return { seconds, megabytes };
}

/** Prints the tables. */
export async function voiceTimings(say: (line: string) => void): Promise<void> {
  const { seconds: cold, voice } = await onePass();
  const { seconds: warm } = await onePass();
  const { counts, response } = voice.body;
  const below = response.frequency.filter((hz) => hz < 1000).length;
  say("\nvoice on example A");
  say(
    `  ${counts.shellNodes} shell nodes, ${counts.structureModes} modes of the structure, ${counts.cavityModes} of the air inside; ` +
      `${below} coupled modes below 1 kHz; outer air on ${counts.exteriorPanels} panels at ${counts.exteriorFrequencies} frequencies; ` +
      `${voice.board.noteBoard.length} notes\n`,
  );
  say("seconds of each stage, one thread\n");
  for (const [name, first] of cold) {
    say(
      `  ${name.padEnd(56)} ${first.toFixed(2).padStart(6)} cold ${warm.get(name)!.toFixed(2).padStart(6)} warm`,
    );
  }
  wholeCommand();
  const runs = [1, 2, 3].map(wholeCommand);
  const best = Math.min(...runs.map((run) => run.seconds));
  say(
    `\nthe whole command in a fresh process, two workers: ${runs.map((run) => run.seconds.toFixed(2)).join(", ")} s (least ${best.toFixed(2)}), ` +
      `peak memory ${Math.max(...runs.map((run) => run.megabytes)).toFixed(0)} MB`,
  );
}
