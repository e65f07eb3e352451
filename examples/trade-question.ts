/**
 * A question of the trade: does the upper third of a top with crossed braces and a centre hole lie idle, and does it move more with
 * the hole at the edge and radial braces (common practice, no source)? Five variants of example B with its own outline and
 * wood: hole in the centre or at the edge, crossed or radial braces, and at last the fingerboard raised clear of the top; then
 * the board raised alone.
 *
 * Prints upperThirdShare (the share of the top's mean square motion between 80 Hz and 1 kHz that lies in its upper third, for
 * 1 N rms at each crown in turn) in all and by third octaves, and the motion of upper third and whole top relative to the first
 * variant. Nothing is tuned: each variant is the same guitar but for the parts named.
 * Run: node tools/run.mjs examples/trade-question.ts [mesh size in mm]
 */
import type { Voice } from "#engine/pipeline";
import { crownView } from "#engine/response";
import { sideSteps, variants, variantVoice } from "./tradeVariants.ts";

const size = Number(process.argv[2] ?? 8.2) / 1000;
const row = (cells: readonly string[]) => process.stdout.write(`| ${cells.join(" | ")} |\n`);
const head = (cells: readonly string[]) => {
  row(cells);
  row(cells.map(() => "---"));
};

/** Mean square speed of upper third and whole top, 80 Hz to 1 kHz, for 1 N rms at each crown, summed on a grid of frequencies. */
function topMotion({ body: { response: b } }: Voice): readonly [upper: number, whole: number] {
  const m = b.rigidCount + b.count;
  let [upper, whole] = [0, 0];
  const views = b.strings.map((_, crown) => crownView(b, crown));
  const step = 0.001;
  for (let f = 80; f < 1000; f *= 1 + step) {
    const w = 2 * Math.PI * f;
    for (const { omega, q, shape } of views) {
      const [re, im] = [new Float64Array(m), new Float64Array(m)];
      for (let i = 0; i < m; i++) {
        // s i w / (omega^2 (1 + i/q) - w^2)
        const [a, c] = [omega[i]! ** 2 - w * w, omega[i]! ** 2 / q[i]!];
        const scale = (shape[3 * i]! * w) / (a * a + c * c);
        re[i] = scale * c;
        im[i] = scale * a;
      }
      for (let third = 0; third < 3; third++) {
        let sum = 0;
        for (let i = 0; i < m; i++) {
          for (let j = 0; j < m; j++)
            sum += b.motionByThird[(third * m + i) * m + j]! * (re[i]! * re[j]! + im[i]! * im[j]!);
        }
        whole += sum * f * step;
        if (third === 0) upper += sum * f * step;
      }
    }
  }
  return [upper, whole];
}

const names = [...Object.keys(variants), ...Object.keys(sideSteps)];
const motions: (readonly [number, number])[] = [];
for (const [at, name] of names.entries()) {
  const voice = await variantVoice(name, size);
  const { response } = voice.body;
  const { total, byThirdOctave } = voice.activeTop;
  if (at === 0) {
    const bands = byThirdOctave.map(({ centreHz }) => `${centreHz}`);
    head(["variant", "main air Hz", "main top Hz", "80 to 1,000 Hz", ...bands]);
  }
  const of = (mode: "main air" | "main top") => {
    const i = response.name.indexOf(mode);
    return i < 0 ? "none" : response.frequency[i]!.toFixed(0);
  };
  const percent = (share: number) => (100 * share).toFixed(0);
  row([
    name,
    of("main air"),
    of("main top"),
    `${(100 * total).toFixed(1)} %`,
    ...byThirdOctave.map(({ share }) => percent(share)),
  ]);
  motions.push(topMotion(voice));
}
process.stdout.write("\n");
head(["variant", "upper third", "whole top"]);
for (const [at, [upper, whole]] of motions.entries())
  row([names[at]!, (upper / motions[0]![0]).toFixed(2), (whole / motions[0]![1]).toFixed(2)]);
