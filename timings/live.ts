/** What a live edit costs by part, how far it is off, and what the exact refresh costs when the hand lets go. */

import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { opened, quiet } from "#engine/numerics";
import {
  alone,
  computeVoice,
  defaultBodySettings,
  holdBrace,
  instrumentGeometry,
  liveEdit,
  liveParameters,
  prepareRefreshable,
  settleEdit,
  stageJobs,
  stringSet,
  voiceSamples,
} from "#engine/pipeline";
import { solveCoupling } from "#engine/response";
import { solveReduced } from "#engine/shells";
import { wasmKernels } from "#kernels";
import { changedBuild } from "../engine/pipeline/live/changedBuild.ts";
import { rangeParameters } from "../engine/pipeline/live/liveParameters.ts";
import { exactModes, liveRefresh } from "../engine/pipeline/live/liveRefresh.ts";
import { movedCoupling } from "../engine/pipeline/live/movedCoupling.ts";
import { warmLive } from "../engine/pipeline/live/warmLive.ts";
import { type Span, spans, stopwatch } from "./span.ts";

const brace = "top.braces[2].height";
const factor = 0.7;
const repeats = 21;

/** A brace's far end drawn across it, as a hand does it, m. */
const moved = "top.braces[4]";
const across = [0.8989, 0.4378] as const;

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
  const input = { build, geometry, strings, settings, body: voice.body, board: voice.board };
  const parameters = [...liveParameters(build), ...rangeParameters(build)];
  const { model: live, refresh, base } = opened(prepareRefreshable(input, ctx, parameters));
  warmLive(live, ctx);
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
    const { parts: coupled, coupling } = opened(movedCoupling(live, { point: moved, laid: [], hole: 1 }));
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

  const hold = stopwatch();
  const held = opened(holdBrace({ model: live, refresh, base }, moved, ctx)).model;
  say(`  hold of ${moved}, ${held.reduced.count} columns  ${spans([hold()])}`);
  const { path } = held.held!.build;
  const lineTo = (by: number) => [
    {
      brace: moved,
      from: [path[0]!, path[1]!] as const,
      to: [path[2]! + by * across[0], path[3]! + by * across[1]] as const,
    },
  ];
  const moves: Span[] = [];
  for (let r = 0; r < repeats; r++) {
    const tick = stopwatch();
    opened(liveEdit(held, lineTo(1e-3 * (r % 12)), ctx));
    moves.push(tick());
  }
  say(`  the whole edit of a moved brace      ${spans(moves)}`);
  const shifted = opened(liveEdit(held, lineTo(0.01), ctx));
  const there = path.slice();
  there[2]! += 0.01 * across[0];
  there[3]! += 0.01 * across[1];
  const braces = build.top.braces.map((b) => (b.documentPath === moved ? { ...b, path: there } : b));
  const anew = { ...build, top: { ...build.top, braces } };
  const whole10 = opened(await computeVoice(anew, geometry, strings, crew, settings, stages)).body.response;
  say(
    `  its end by 10 mm: the first 30 coupled modes move by up to ${gap(voice.body.response.frequency, whole10.frequency, 30)}, ` +
      `the edit is off by ${gap(shifted.response.frequency, whole10.frequency, 30)}`,
  );

  const ranges: Span[] = [];
  for (let r = 0; r < 3; r++) {
    const tick = stopwatch();
    opened(voiceSamples(live, build.uncertain, voice.knowledge, ctx));
    ranges.push(tick());
  }
  say(`  ranges: 64 samples of modes, 24 boards ${spans(ranges)}`);

  const settled: Span[] = [];
  let last = opened(settleEdit(live, refresh, change, ctx));
  for (let r = 0; r < 5; r++) {
    const tick = stopwatch();
    last = opened(settleEdit(live, refresh, [{ parameter: brace, factor: factor + 0.01 * r }], ctx));
    settled.push(tick());
  }
  last = opened(settleEdit(live, refresh, change, ctx));
  const count = last.exactModes;
  say(
    `  exact refresh on release, board and all ${spans(settled)}   the reduced model was off by ${(100 * last.reducedError).toFixed(4)} % in ${count} modes, ` +
      `left ${(100 * Math.max(...last.errorEstimate.subarray(0, count))).toFixed(4)} %; coupled modes off by ${gap(last.response.frequency, frequency, 30)}`,
  );
  const { system, vectors, rigidCount } = refresh;
  for (const elastic of [30, live.reduced.values.length]) {
    const from = opened(
      liveRefresh(refresh, system, { vectors: Float64Array.from(vectors), rigidCount }, ctx, elastic),
    );
    const solved = opened(solveReduced(live.reduced, change, live.reduced.values.length, wasmKernels));
    const times: Span[] = [];
    for (let r = 0; r < 5; r++) {
      const tick = stopwatch();
      opened(exactModes(from, [{ parameter: brace, factor: factor - 0.001 * r }], solved, ctx, elastic));
      times.push(tick());
    }
    say(`  of it ${elastic} modes of the structure    ${spans(times)}`);
  }
}
