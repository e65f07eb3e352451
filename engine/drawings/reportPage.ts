import type { Level, Verdict } from "#engine/verdicts";
import type { Drawing } from "./displayList.ts";
import { reportStyle } from "./reportStyle.ts";
import { escaped, svgElement } from "./svg.ts";
import { levelMark } from "./verdictSchedule.ts";
import type { Stamp } from "./voiceView.ts";

/** What every report says at its head and in its corner. */
interface ReportHead {
  readonly title: string;
  readonly subtitle: string;
  readonly hand: "right" | "left";
  readonly verdicts: readonly Verdict[];
  readonly stamp: Stamp;
}

/**
 * A report as one HTML document that needs nothing else: no script, no font, no request. `subject` stands behind the title of
 * the document, `corner` before the stamp in the title block.
 */
export function reportPage(
  head: ReportHead,
  subject: string,
  sheets: readonly string[],
  corner: readonly (readonly [term: string, text: string])[],
): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(head.title)}: ${escaped(subject)}</title>
<style>${reportStyle}</style>
</head>
<body>
<main>
<header class="sheet-head">
<h1>${escaped(head.title)}</h1>
<p>${escaped(head.subtitle)}${head.hand === "left" ? "; left-handed" : ""}</p>
${tally(head.verdicts)}
</header>
${sheets.join("\n")}
${titleBlock(corner, head.stamp)}
</main>
</body>
</html>
`;
}

/** One part of a report under its own heading. */
export function sheet(id: string, heading: string, content: string): string {
  return `<section class="sheet" id="${id}" aria-labelledby="${id}-h"><h2 id="${id}-h">${heading}</h2>${content}</section>`;
}

export function picture(drawing: Drawing, id: string, caption: string): string {
  return `<figure>${svgElement(drawing, id)}<figcaption>${caption}</figcaption></figure>`;
}

/** How many verdicts of each level, gravest first, each leading to the schedule. */
function tally(verdicts: readonly Verdict[]): string {
  const levels: readonly Level[] = ["stop", "watch", "good"];
  const words = { stop: "do not cut yet", watch: "look before you cut", good: "nothing against it" } as const;
  const items = levels.flatMap((level) => {
    const count = verdicts.filter((v) => v.level === level).length;
    if (count === 0) return [];
    return [
      `<li>${levelMark(level)}<a href="#verdicts">${count} ${level}</a> <span class="soft">${words[level]}</span></li>`,
    ];
  });
  return `<ul class="tally">${items.join("")}</ul>`;
}

/** Instrument, engine and stamp, as in the corner of any drawing: the numbers that a later reader asks for. */
function titleBlock(corner: readonly (readonly [string, string])[], stamp: Stamp): string {
  const cells: readonly (readonly [string, string])[] = [
    ...corner,
    ["Design, settings", `${stamp.inputHash}, ${stamp.settingsHash}`],
    ["Computed by", `Fairbout ${stamp.engineVersion}`],
  ];
  return `<dl class="title-block">${cells.map(([term, text]) => `<div><dt>${term}</dt><dd>${escaped(text)}</dd></div>`).join("")}</dl>`;
}
