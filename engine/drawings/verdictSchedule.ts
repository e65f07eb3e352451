import type { Level, Verdict } from "#engine/verdicts";
import { escaped, prose } from "./svg.ts";

/** The mark of each level: its shape says it without colour, and the word stands beside it. */
const shapes: Readonly<Record<Level, string>> = {
  good: `<circle cx="12" cy="12" r="9.5"/><path d="M7.5 12.5l3 3 6-6.5"/>`,
  watch: `<path d="M12 3L22 21H2Z"/><path d="M12 9.5v5.5M12 17v1.6"/>`,
  stop: `<path class="solid" d="M8 2.5h8L21.5 8v8L16 21.5H8L2.5 16V8Z"/><path class="bar" d="M7 12h10"/>`,
};

/** The mark of a level as an inline picture; the word next to it carries the meaning for readers who do not see it. */
export function levelMark(level: Level): string {
  return `<svg class="mark ${level}" viewBox="0 0 24 24" aria-hidden="true" data-level="${level}">${shapes[level]}</svg>`;
}

const order: readonly Level[] = ["stop", "watch", "good"];

/** Every verdict with what was computed, the limit and its source, why, how sure, and what would change it; gravest first. */
export function verdictSchedule(verdicts: readonly Verdict[]): string {
  const sorted = [...verdicts].sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
  return `<div class="schedule">${sorted.map(entry).join("")}</div>`;
}

function entry(verdict: Verdict): string {
  const rows: readonly (readonly [string, string])[] = [
    ["Limit", `${verdict.limit} (${verdict.source})`],
    ["What would change it", verdict.whatWouldChange],
    ["How sure", verdict.sureness],
  ];
  const list = `<dl>${rows.map(([term, text]) => `<div><dt>${term}</dt><dd>${prose(capital(text))}.</dd></div>`).join("")}</dl>`;
  const meant =
    verdict.meant === undefined
      ? ""
      : `<p class="meant"><strong>Meant:</strong> ${prose(verdict.meant)}${verdict.level === "stop" && verdict.canHurt ? " <em>Someone can be hurt by this, so it still counts.</em>" : ""}</p>`;
  const head = `<p class="level ${verdict.level}">${levelMark(verdict.level)}<span>${verdict.level}</span></p>`;
  const said = `<h3>${escaped(verdict.title)}</h3><p>${prose(capital(verdict.computed))}.</p>`;
  const why = `<p>${prose(capital(verdict.why))}.</p>`;
  const body =
    verdict.level === "good"
      ? `<details><summary>why, limit, what would change it</summary>${why}${list}</details>`
      : `${why}${meant}${list}`;
  return `<section class="verdict" id="verdict-${escaped(verdict.id)}">${head}<div>${said}${verdict.level === "good" ? meant : ""}${body}</div></section>`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
