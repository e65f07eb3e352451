/**
 * A question of the trade: does the upper third of a top with crossed braces and a centre hole lie idle, and does it move more with
 * the hole at the edge and radial braces (common practice, no source)? Five variants of example B with its own outline and
 * wood: hole in the centre or at the edge, crossed or radial braces, and at last the fingerboard raised clear of the top.
 *
 * Prints upperThirdShare (the share of the top's mean square motion between 80 Hz and 1 kHz that lies in its upper third, for
 * 1 N rms at each crown in turn) in all and by third octaves. Nothing is tuned: each variant is the same guitar
 * but for the parts named. Run: node tools/run.mjs examples/trade-question.ts [mesh size in mm]
 */
import type { Voice } from "#engine/pipeline";
import { variants, variantVoice } from "./tradeVariants.ts";

const size = Number(process.argv[2] ?? 8.2) / 1000;
const voices: (readonly [string, Voice])[] = [];
for (const name of Object.keys(variants)) voices.push([name, await variantVoice(name, size)]);
const bands = voices[0]![1].activeTop.byThirdOctave.map(({ centreHz }) => centreHz);
const row = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
process.stdout.write(
  `${row(["variant", "main air Hz", "main top Hz", "80 to 1,000 Hz", ...bands.map((hz) => `${hz}`)])}\n${row(
    Array.from({ length: bands.length + 4 }, () => "---"),
  )}\n`,
);
for (const [name, voice] of voices) {
  const { response } = voice.body;
  const of = (mode: "main air" | "main top") => {
    const i = response.name.indexOf(mode);
    return i < 0 ? "none" : response.frequency[i]!.toFixed(0);
  };
  const percent = (share: number) => (100 * share).toFixed(0);
  process.stdout.write(
    `${row([name, of("main air"), of("main top"), `${(100 * voice.activeTop.total).toFixed(1)} %`, ...voice.activeTop.byThirdOctave.map(({ share }) => percent(share))])}\n`,
  );
}
