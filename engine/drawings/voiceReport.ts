import { formatQuantity } from "#engine/units";
import { frequencySigma, honestAccuracy, nearestNote } from "#engine/verdicts";
import { modeSheet, plateInnerEdges } from "./modeSheet.ts";
import { noteBoardSheet } from "./noteBoardSheet.ts";
import { noteTable } from "./noteTable.ts";
import { planSheet } from "./planSheet.ts";
import { picture, reportPage, sheet } from "./reportPage.ts";
import { responseChart } from "./responseChart.ts";
import { shopWords } from "./shopWords.ts";
import { escaped, prose, svgElement } from "./svg.ts";
import { verdictSchedule } from "./verdictSchedule.ts";
import type { ModeView, RangesView, VoiceView } from "./voiceView.ts";

/** Fills whole rows of four, three or two. */
const shownModes = 12;

/**
 * The whole voice report as one HTML document that needs nothing else: no script, no font, no request. What the design
 * implies comes first, in shop words; then the verdicts, the plan, the mode shapes, the response, the note board and
 * every note; what the model does not promise, and the stamp, come last.
 */
export function voiceReport(view: VoiceView): string {
  return reportPage(
    view,
    "voice",
    [
      sheet("implies", "What this design implies", implied(view)),
      sheet("verdicts", "Verdicts", verdictSchedule(view.verdicts)),
      sheet("plan", "The plan", plan(view)),
      sheet("modes", "How the body moves", modes(view)),
      sheet("response", "What the body answers", response(view)),
      sheet("board", "The board, note by note", board(view)),
      sheet(
        "notes",
        "Every note",
        `<p>Decay is the time to fall by 60 dB at one metre, with its range. A wolf index of 1 is the threshold of strong coupling; a dead index of 2 means half the decay of the neighbours. An index without a range was not sampled: it goes with the Q of its mode and its place, known within one fret in 7 cases of 10.</p>${noteTable(view.noteBoard, view.modes, view.ranges?.notes ?? null)}`,
      ),
      view.ranges === null ? "" : sheet("worth", "What would narrow the picture", worth(view.ranges)),
      sheet("limits", "What the model does not promise", limits(view)),
    ],
    [
      ["Instrument", view.title],
      ["Wood known from", view.knowledge],
    ],
  );
}

function implied(view: VoiceView): string {
  const rows = shopWords(view).map(
    ({ topic, sentences }) =>
      `<dt>${escaped(topic)}</dt><dd>${sentences.map((s) => `<p>${prose(s)}</p>`).join("")}</dd>`,
  );
  return `<dl class="words">${rows.join("")}</dl>`;
}

function plan(view: VoiceView): string {
  const drawing = planSheet(view.plan, view.board, view.hand);
  const braces = view.plan.braces.map(
    (b, i) =>
      `<tr><th scope="row">${i + 1}</th><td class="left">${escaped(b.name)}</td><td class="left">${b.plate}</td><td>${formatQuantity(b.width, "mm", 1)}</td><td>${formatQuantity(b.height, "mm", 1)}</td></tr>`,
  );
  const strings = view.load.strings.map(
    (s) =>
      `<tr><th scope="row">${s.string}</th><td class="left">${escaped(s.note)}</td><td>${s.tensionN.toFixed(0)} N</td><td>${formatQuantity(s.tensionN, "kgf", 1)}</td><td>${formatQuantity(s.linearDensityKgPerM, "g/m", 2)}</td><td>${s.breakMargin.toFixed(2)}</td></tr>`,
  );
  return (
    picture(
      drawing,
      "plan-drawing",
      "As the player looks down on it, the braces seen through the top. True to scale when printed 186 mm wide; the bar measures it at any size.",
    ) +
    `<div class="halves"><div class="scroll"><table><caption>Braces</caption><thead><tr><th scope="col">No.</th><th scope="col" class="left">Name</th><th scope="col" class="left">On</th><th scope="col">Width</th><th scope="col">Height</th></tr></thead><tbody>${braces.join("")}</tbody></table></div>` +
    `<div class="scroll"><table><caption>Strings at pitch</caption><thead><tr><th scope="col">No.</th><th scope="col" class="left">Note</th><th scope="col">Tension</th><th scope="col"></th><th scope="col">Mass</th><th scope="col">Breaks at</th></tr></thead><tbody>${strings.join("")}</tbody></table><p class="note">Breaks at: times its tension, new wire.</p></div></div>`
  );
}

function modes(view: VoiceView): string {
  const inner = plateInnerEdges(view.plates);
  const figures = view.modes
    .map((mode, i) => ({ mode, i }))
    .filter(({ mode }) => mode.topMotion !== null && mode.backMotion !== null)
    .slice(0, shownModes)
    .map(({ mode, i }) => ({ mode, i, drawing: modeSheet(mode, view, inner) }))
    .filter(({ drawing }) => drawing !== null)
    .map(
      ({ mode, i, drawing }) =>
        `<figure>${svgElement(drawing!, `mode-${i}`)}<figcaption>${modeCaption(mode, i, view)}</figcaption></figure>`,
    );
  const swatches = (side: "in" | "out") =>
    `<svg viewBox="0 0 44 12" aria-hidden="true">${[1, 2, 3, 4].map((k) => `<path class="f-${side}${k}" d="M${(k - 1) * 11} 0h11v12h-11Z"/>`).join("")}</svg>`;
  const key = `<ul class="tints"><li>${swatches("out")} outward, marked +</li><li>${swatches("in")} inward, marked −</li><li><svg viewBox="0 0 30 12" aria-hidden="true"><path class="none s-ink" stroke-width="2" d="M0 6h30"/></svg> stands still</li><li class="soft">tints change at 8, 30, 55 and 80 % of the mode's largest motion</li></ul>`;
  const listed = view.modes.filter((m) => m.frequencyHz <= view.modesToHz);
  const rows = listed.map((m, i) => {
    const { low, high } = modeRange(m, i, view);
    return `<tr><th scope="row">${m.frequencyHz.toFixed(0)} Hz</th><td>${low.toFixed(0)} to ${high.toFixed(0)} Hz</td><td class="left">${sayNote(m.frequencyHz, view.a4)}</td><td>${m.q.toFixed(0)}</td><td>${sayMass(m.effectiveMassKg)}</td><td class="left">${escaped(m.name ?? "")}</td></tr>`;
  });
  return (
    `<p>Each pair is one mode at the same instant: the top above, the back below, both seen from the front and to one scale of motion.</p>${key}` +
    `<div class="modes">${figures.join("")}</div>` +
    `<details><summary>All ${listed.length} modes to ${view.modesToHz.toFixed(0)} Hz</summary><div class="scroll"><table><thead><tr><th scope="col">Frequency</th><th scope="col">Likely</th><th scope="col" class="left">Note</th><th scope="col">Q</th><th scope="col">Mass at the saddle</th><th scope="col" class="left">Name</th></tr></thead><tbody>${rows.join("")}</tbody></table></div></details>`
  );
}

function modeCaption(mode: ModeView, index: number, view: VoiceView): string {
  const { low, high, qFactor } = modeRange(mode, index, view);
  return (
    `<h3><span>${mode.frequencyHz.toFixed(0)} Hz</span><span>${sayNote(mode.frequencyHz, view.a4)}</span></h3>` +
    `${mode.name === null ? "" : `<p class="accent">${escaped(mode.name)}</p>`}` +
    `<p>likely ${low.toFixed(0)} to ${high.toFixed(0)} Hz</p><p>Q ${mode.q.toFixed(0)}, likely ${(mode.q / qFactor).toFixed(0)} to ${(mode.q * qFactor).toFixed(0)}</p>` +
    `<p>${mode.effectiveMassKg === null || mode.effectiveMassKg > 100 ? "the saddle hardly moves" : `${sayMass(mode.effectiveMassKg)} at the saddle`}</p>`
  );
}

/** One sigma either way: of wood and model where sampled, else the model's alone. */
function modeRange(
  mode: ModeView,
  index: number,
  view: VoiceView,
): { readonly low: number; readonly high: number; readonly qFactor: number } {
  const own = view.ranges?.modes[index] ?? null;
  const sigma = own?.frequencyHz ?? mode.frequencyHz * frequencySigma(mode.name, view.knowledge);
  return {
    low: mode.frequencyHz - sigma,
    high: mode.frequencyHz + sigma,
    qFactor: own === null ? honestAccuracy(view.knowledge).qFactor : 1 + own.q / mode.q,
  };
}

function sayNote(frequency: number, a4?: number): string {
  const { note, cents } = nearestNote(frequency, a4);
  return cents === 0 ? note : `${note} ${cents > 0 ? "+" : "−"}${Math.abs(cents)} cents`;
}

function sayMass(mass: number | null): string {
  if (mass === null || mass > 100) return "over 100 kg";
  return mass < 1 ? formatQuantity(mass, "g", 0) : formatQuantity(mass, "kg", mass < 10 ? 1 : 0);
}

function response(view: VoiceView): string {
  return picture(
    responseChart(view),
    "response-drawing",
    "Above: how fast the middle of the saddle moves along the top's normal for a force of 1 N. Below: the sound pressure level (re 20 µPa) at one metre in free air for 1 N rms. Ticks along the upper edge are body modes; red bars are the range of one standard deviation of the named ones.",
  );
}

function board(view: VoiceView): string {
  return picture(
    noteBoardSheet(view),
    "board-drawing",
    "The fingerboard with its slots to scale, as the player looks down on it. The ink of each string is as heavy as that note is loud: 1.75 times for every 6 dB.",
  );
}

function worth({ worth: sentences, samples }: RangesView): string {
  const list = sentences.map((text) => `<li>${prose(text)}</li>`).join("");
  return (
    `<p>The ranges on these sheets are one standard deviation of the uncertain values and of the model together, from ${samples} samples of all values at once, each drawn with its spread.</p>` +
    (list === "" ? "<p>No value of the document has a spread.</p>" : `<ol class="limits">${list}</ol>`)
  );
}

function limits(view: VoiceView): string {
  const accuracy = honestAccuracy(view.knowledge);
  const general = [
    `Ranges are one standard deviation against a real guitar with its wood known as "${view.knowledge}", an engineering judgement: main top ${percent(accuracy.mainTop)}, main air ${percent(accuracy.mainAir)}, other modes ${percent(accuracy.otherMode)}, Q by a factor ${accuracy.qFactor}, one note's level 3 dB, the board's average 1.5 dB, decay by a factor 1.5.`,
    "Differences between two designs of the same wood are about twice as safe as either figure.",
  ];
  return `<ul class="limits">${[...general, ...view.limits].map((text) => `<li>${prose(text)}</li>`).join("")}</ul>`;
}

function percent(ratio: number): string {
  const value = ratio * 100;
  return `${Number.isInteger(value) ? value : value.toFixed(1)} %`;
}
