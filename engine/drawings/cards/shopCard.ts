import type { Drawing } from "../displayList.ts";
import { escaped, prose, svgElement } from "../svg.ts";
import { cardStyle } from "./cardStyle.ts";
import type { CardHead } from "./cardView.ts";
import { checkBar } from "./checkBar.ts";

/** One operation at the bench on one page: what to measure, boxes to tick, room for what was found. */
export interface ShopCard {
  /** Unique on the page, letters and dashes. */
  readonly id: string;
  readonly operation: string;
  /** What to do with the numbers, one or two sentences. */
  readonly how: string;
  readonly drawing: Drawing | null;
  readonly content: CardNumbers | CardTable;
  /** Steps to tick. */
  readonly boxes: readonly string[];
  readonly caution: string | null;
}

/** Six at most, so that they can be read from a step away. */
export interface CardNumbers {
  readonly kind: "numbers";
  readonly caption: string;
  readonly rows: readonly CardNumber[];
}

export interface CardNumber {
  /** Letter of the dimension in the drawing, or the string's number. */
  readonly mark: string;
  readonly what: string;
  /** With its unit. */
  readonly value: string;
  /** The same in the other unit, or a figure to check it by; "" if there is none. */
  readonly also: string;
}

/** Where a card is a list by fret. The first column heads its row; every row ends in a box and room for what was found. */
export interface CardTable {
  readonly kind: "table";
  readonly caption: string;
  /** Spans over the columns below: [words, columns]. */
  readonly groups: readonly (readonly [string, number])[];
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** The cards as one HTML document, one to a page of A4 or Letter, that needs nothing else: no script, font or request. */
export function shopCards(head: CardHead, operation: string, cards: readonly ShopCard[]): string {
  const pages = cards.map((card, i) => page(head, card, i + 1, cards.length));
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(head.title)}: cards for ${escaped(operation)}</title>
<style>${cardStyle}</style>
</head>
<body>
<main>
<h1 class="screen">${escaped(head.title)}: cards for ${escaped(operation)}</h1>
<p class="screen">One card a page, A4 or Letter. Print at 100 %, no fitting to the page.</p>
${pages.join("\n")}
</main>
</body>
</html>
`;
}

function page(head: CardHead, card: ShopCard, number: number, of: number): string {
  const drawing =
    card.drawing === null ? "" : `<figure>${svgElement(card.drawing, `${card.id}-drawing`)}</figure>`;
  const boxes = card.boxes.map((text) => `<li>${tick}<span>${prose(text)}</span></li>`).join("");
  const content = card.content.kind === "numbers" ? numbers(card.content) : table(card.content, card.id);
  const caution =
    card.caution === null ? "" : `<p class="caution"><strong>Caution.</strong> ${prose(card.caution)}</p>`;
  return (
    `<section class="card ${card.content.kind}" id="${card.id}" aria-labelledby="${card.id}-h">` +
    `<header><h2 id="${card.id}-h">${escaped(card.operation)}</h2><p>${prose(card.how)}</p></header>` +
    `${drawing}${content}<ul class="boxes">${boxes}</ul>${caution}` +
    `<footer><dl><div><dt>Instrument</dt><dd>${escaped(head.title)}</dd></div><div><dt>Tuning, scale</dt><dd>${escaped(head.subtitle)}${head.hand === "left" ? ", left-handed" : ""}</dd></div><div><dt>Design</dt><dd>${escaped(head.stamp.inputHash)}, Fairbout ${escaped(head.stamp.engineVersion)}</dd></div><div><dt>Card</dt><dd>${number} of ${of}</dd></div><div class="wide"><dt>Done by, on</dt><dd></dd></div></dl></footer>` +
    `</section>`
  );
}

const tick = `<svg class="tick" viewBox="0 0 12 12" aria-hidden="true"><path class="none s-ink" stroke-width="1" d="M1 1h10v10h-10Z"/></svg>`;

/** Height of a row by fret, so that a long board still fits its page. */
function rowMm(rows: number): string {
  return Math.min(6.2, 119 / rows).toFixed(2);
}

function numbers({ caption, rows }: CardNumbers): string {
  const row = ({ mark, what, value, also }: CardNumber) =>
    `<tr><th scope="row"><b class="key">${escaped(mark)}</b></th><td class="left">${prose(what)}</td><td class="value">${prose(value)}</td><td class="also">${prose(also)}</td><td class="found"></td><td>${tick}</td></tr>`;
  return `<table class="numbers"><caption>${escaped(caption)}</caption><thead><tr><th scope="col" class="left">Mark</th><th scope="col" class="left">Measure</th><th scope="col">Wanted</th><th scope="col">Also</th><th scope="col" class="left found">Found</th><th scope="col">Done</th></tr></thead><tbody>${rows.map(row).join("")}</tbody></table>`;
}

function table({ caption, groups, columns, rows }: CardTable, id: string): string {
  const spans = groups
    .map(([words, count]) =>
      count === 1 ? `<td></td>` : `<th scope="colgroup" colspan="${count}">${escaped(words)}</th>`,
    )
    .join("");
  const head = columns.map((c) => `<th scope="col">${escaped(c)}</th>`).join("");
  const row = ([first, ...rest]: readonly string[]) =>
    `<tr><th scope="row">${escaped(first)}</th>${rest.map((c) => `<td>${escaped(c)}</td>`).join("")}<td>${tick}</td><td class="found"></td></tr>`;
  return (
    `<div class="beside"><table class="by-fret" style="--row:${rowMm(rows.length)}mm"><caption>${escaped(caption)}</caption><thead><tr>${spans}<td colspan="2"></td></tr>` +
    `<tr>${head}<th scope="col">Done</th><th scope="col" class="left found">Found</th></tr></thead><tbody>${rows.map(row).join("")}</tbody></table>` +
    `<div class="upright">${svgElement(checkBar("upright"), `${id}-upright`)}</div></div>` +
    `<div class="level">${svgElement(checkBar("level"), `${id}-level`)}</div>`
  );
}
