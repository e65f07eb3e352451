/**
 * Where the time of `voice` on example A goes, cold (first call in a fresh process) and warm, one thread. Times are of this
 * machine in this run; they are not remembered and nothing asserts on them.
 */
import { readFileSync } from "node:fs";
import { voiceReport as voiceSheet } from "#engine/drawings";
import { checkInstrument } from "#engine/instrument";
import { opened, quiet } from "#engine/numerics";
import {
  computeVoice,
  defaultBodySettings,
  instrumentGeometry,
  meshSize,
  platePanels,
  stringSet,
  voiceReport,
  voiceView,
} from "#engine/pipeline";
import { panelMesh, panelModes, panelSystem } from "#engine/shells";

const text = readFileSync(new URL("../examples/low-radial.fairbout.json", import.meta.url), "utf8");

/** Seconds of each stage in one pass over the whole job, in order. */
function onePass(): Map<string, number> {
  const seconds = new Map<string, number>();
  const timed = <T>(name: string, run: () => T): T => {
    const begun = performance.now();
    const value = run();
    seconds.set(name, (performance.now() - begun) / 1000);
    return value;
  };
  const checked = timed("read, check, realise, plan", () => checkInstrument(text));
  if (!checked.ok) throw new Error("example A does not pass its own check");
  const { build, plan } = checked;
  const geometry = timed("board and strings", () => opened(instrumentGeometry(build, plan)));
  const strings = opened(stringSet(build));
  const panels = platePanels(build, plan, geometry.board);
  for (const [name, area] of [
    ["top", plan.areas.top],
    ["back", plan.areas.back],
  ] as const) {
    const panel = panels[name];
    const mesh = timed(`${name}: mesh`, () =>
      opened(panelMesh(panel, meshSize(area, defaultBodySettings.nodesPerPlate))),
    );
    const system = timed(`${name}: ${mesh.nodes.length / 3} nodes, matrices`, () => panelSystem(panel, mesh));
    timed(`${name}: ${defaultBodySettings.modesPerPlate} modes`, () =>
      opened(panelModes(system, defaultBodySettings.modesPerPlate, quiet)),
    );
  }
  const voice = timed("whole voice, all the above but the first two again", () =>
    opened(computeVoice(build, geometry, strings)),
  );
  timed("JSON", () => JSON.stringify(voiceReport(voice)));
  timed("report", () => voiceSheet(voiceView(voice)));
  return seconds;
}

/** Prints the table. */
export function voiceTimings(say: (line: string) => void): void {
  const cold = onePass();
  const warm = onePass();
  say("\nvoice on example A, seconds\n");
  for (const [name, first] of cold) {
    say(
      `  ${name.padEnd(56)} ${first.toFixed(2).padStart(6)} cold ${warm.get(name)!.toFixed(2).padStart(6)} warm`,
    );
  }
}
