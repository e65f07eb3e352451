/** What a live edit costs by part, how far it is off, and what the exact refresh costs when the hand lets go. */

import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { lowestModes, opened, quiet, refreshModes, refreshState } from "#engine/numerics";
import {
  alone,
  computeVoice,
  defaultBodySettings,
  instrumentGeometry,
  liveEdit,
  prepareLive,
  stageJobs,
  stringSet,
  strungShell,
  voiceSamples,
} from "#engine/pipeline";
import { solveCoupling } from "#engine/response";
import { bodyChange, changedMatrices, joinedSystem, solveReduced } from "#engine/shells";
import { wasmKernels } from "#kernels";
import { loadInput, strungSystem } from "../engine/pipeline/body/stringLoad.ts";
import { changedBuild } from "../engine/pipeline/live/changedBuild.ts";
import { movedCoupling } from "../engine/pipeline/live/liveEdit.ts";
import { type Span, spans, stopwatch } from "./span.ts";

const brace = "top.braces[2].height";
const factor = 0.7;
const repeats = 21;

export async function timeLive(say: (line: string) => void): Promise<void> {
  const ctx = { ...quiet, kernels: wasmKernels };
  const text = readFileSync(new URL("../examples/low-radial.fairbout.json", import.meta.url), "utf8");
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error("example A does not pass its own check");
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  const strings = opened(stringSet(build));
  const settings = defaultBodySettings;
  const crew = alone(stageJobs);
  const stages = { stage: () => ctx };
  const clock = stopwatch();
  const voice = opened(await computeVoice(build, geometry, strings, crew, settings, stages));
  const cold = clock();
  const live = opened(prepareLive({ build, geometry, strings, settings, body: voice.body, board: voice.board }, ctx));
  const prepared = clock();
  say(
    `\nlive edits of example A, ${voice.body.counts.shellNodes} shell nodes, ${live.reduced.values.length} modes of the structure, ` +
      `${live.reduced.count} columns; ms of processor time [of the clock], median of ${repeats}`,
  );
  say(`  whole voice, cold, one hand          ${spans([cold])}`);
  say(`  prepared in the background           ${spans([prepared])}`);

  const change = [{ parameter: brace, factor }];
  const parts = new Map<string, Span[]>();
  const note = (name: string, span: Span): void => {
    parts.set(name, [...(parts.get(name) ?? []), span]);
  };
  let edit = opened(liveEdit(live, change, ctx));
  for (let r = 0; r < repeats; r++) {
    const moved = [{ parameter: brace, factor: factor + 0.01 * (r % 5) }];
    const tick = stopwatch();
    opened(solveReduced(live.reduced, moved, live.reduced.values.length, wasmKernels));
    note("reduced structure and its error", tick());
    const { parts: coupled, coupling } = opened(movedCoupling(live, moved, 1));
    note("coupled equations moved", tick());
    opened(solveCoupling(coupled, coupling, ctx));
    note("coupled modes", tick());
    edit = opened(liveEdit(live, moved, ctx));
    note("the whole edit, note board and all", tick());
  }
  for (const [name, list] of parts) {
    const worst = Math.max(...list.map((s) => s.cpu));
    say(`  ${name.padEnd(36)} ${spans(list)}   at most ${worst.toFixed(0)}`);
  }
  const whole = parts.get("the whole edit, note board and all")!;
  const middle = whole.map((s) => s.cpu).sort((a, b) => a - b)[whole.length >> 1]!;
  say(`  the whole voice costs ${(cold.cpu / middle).toFixed(0)} edits`);

  edit = opened(liveEdit(live, change, ctx));
  const changed = changedBuild(build, brace, factor)!;
  const full = opened(await computeVoice(changed.build, geometry, strings, crew, settings, stages));
  const gap = (found: ArrayLike<number>, wanted: ArrayLike<number>, count: number): string => {
    let most = 0;
    for (let i = 0; i < count; i++) most = Math.max(most, Math.abs(found[i]! / wanted[i]! - 1));
    return `${(100 * most).toFixed(3)} %`;
  };
  const { frequency } = full.body.response;
  say(
    `  ${brace} x ${factor}: the first 30 coupled modes move by up to ${gap(voice.body.response.frequency, frequency, 30)}, ` +
      `the edit is off by ${gap(edit.response.frequency, frequency, 30)}, foretold ${(100 * Math.max(...edit.errorEstimate.subarray(0, 30))).toFixed(3)} %`,
  );

  const ranges: Span[] = [];
  for (let r = 0; r < 3; r++) {
    const tick = stopwatch();
    opened(voiceSamples(live, build.uncertain, voice.knowledge, ctx));
    ranges.push(tick());
  }
  say(`  ranges: 64 samples of modes, 24 boards ${spans(ranges)}`);

  const { spec, mesh, plates } = voice.body.made;
  const { system } = opened(
    strungSystem(opened(joinedSystem(spec, mesh, plates)), loadInput(build, geometry, strings), ctx),
  );
  const shift = (2 * Math.PI * 30) ** 2;
  const count = 36;
  const given = live.reduced.values.length + 6;
  const nominal = opened(
    lowestModes(system.stiffness, system.mass, { count: given, shift, group: system.group }, ctx),
  );
  const after = strungShell(changed.build, geometry, strings);
  // the more vectors are handed in, the more each step takes off the error, and the longer it lasts
  for (const handed of [Math.min(64, given), given]) {
    const state = opened(
      refreshState(system.stiffness, system.mass, { shift, most: handed, group: system.group }, ctx),
    );
    const vectors = nominal.vectors.subarray(0, handed * system.n);
    const matrices: Span[] = [];
    const refreshed: Span[] = [];
    let off = "";
    for (let r = 0; r < 5; r++) {
      opened(refreshModes(state, system.stiffness, system.mass, vectors.subarray(0, 4 * system.n), 4, ctx));
      const tick = stopwatch();
      const now = changedMatrices(system, opened(bodyChange(system, after, changed.parts)));
      matrices.push(tick());
      const found = opened(refreshModes(state, now.stiffness, now.mass, vectors, count, ctx));
      refreshed.push(tick());
      if (r > 0) continue;
      const exact = opened(lowestModes(now.stiffness, now.mass, { count, shift, group: system.group }, ctx));
      off = gap(found.values.subarray(6).map(Math.sqrt), exact.values.subarray(6).map(Math.sqrt), count - 6);
    }
    say(
      `  exact refresh of the structure on release: matrices ${spans(matrices)}, 30 modes from ${handed} vectors ${spans(refreshed)}   off by ${off}`,
    );
  }
}
