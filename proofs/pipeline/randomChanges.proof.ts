/**
 * A document that passes the check never makes a later stage fail: seeded random changes to the examples either are refused by the check
 * or go through slots, load, voice and report. (By hand, 108 documents of seeds 7 and 1234 did: 19 refused, 89 whole.)
 */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { voiceReport as voiceSheet } from "#engine/drawings";
import { checkInstrument } from "#engine/instrument";
import { opened, seededRandom } from "#engine/numerics";
import { instrumentGeometry, slotsReport, stringSet, voiceView } from "#engine/pipeline";
import { coarseVoice } from "./coarseBody.ts";

type Json = Record<string, unknown>;
const names = ["low-radial", "cross-braced", "small-ladder"] as const;

/** Paths to every quantity with a unit in a document. */
function quantities(at: unknown, path: readonly string[] = []): (readonly string[])[] {
  if (typeof at === "string") return /^[\d.]+ /.test(at) ? [path] : [];
  if (at === null || typeof at !== "object") return [];
  return Object.entries(at).flatMap(([key, value]) => quantities(value, [...path, key]));
}

/** Multiplies a few quantities by 0.3 to 2.8. */
function changed(document: Json, random: () => number): Json {
  const paths = quantities(document);
  for (let k = 0; k < 1 + 3 * random(); k++) {
    const path = paths[Math.floor(random() * paths.length)]!;
    const key = path[path.length - 1]!;
    const owner = path.slice(0, -1).reduce((here, step) => here[step] as Json, document);
    const [number, ...unit] = String(owner[key]).split(" ");
    owner[key] = `${(Number(number) * (0.3 + 2.5 * random())).toFixed(4)} ${unit.join(" ")}`;
  }
  return document;
}

it.each([11, 12, 13, 14, 15, 16])("seed %i", async (seed) => {
  const random = seededRandom(seed);
  const name = names[seed % names.length]!;
  const text = readFileSync(new URL(`../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  const checked = checkInstrument(JSON.stringify(changed(JSON.parse(text) as Json, random)));
  if (!checked.ok) {
    for (const issue of checked.issues) expect(issue.message.length).toBeGreaterThan(10);
    return;
  }
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  const strings = opened(stringSet(build));
  expect(slotsReport(build, geometry, strings).slots).toHaveLength(build.board.frets);
  const voice = await coarseVoice({ build, geometry, strings });
  expect(voiceSheet(voiceView(voice))).toContain("<svg");
});
