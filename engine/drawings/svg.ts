import type { Drawing, Mark } from "./displayList.ts";
import { day, inkProperties, inkRules } from "./inks.ts";

/** The five characters that mean something to HTML and XML, made harmless. */
export function escaped(text: string): string {
  return text.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
}

/** Running text, escaped, with numbers kept on one line with their units and a true minus sign. */
export function prose(text: string): string {
  return escaped(text)
    .replace(/(\d) (?=(?:Hz|kHz|mm|N|dB|kgf|kg|g|s|cents|degrees)\b|%)/g, "$1\u00a0")
    .replace(/ -(?=\d)/g, " \u2212");
}

/** Sheet numbers to 0.01 mm, as short as they can be written. */
function mm(value: number): string {
  const text = value.toFixed(2).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

function pathData(pieces: readonly Float64Array[], closed: boolean): string {
  return pieces
    .filter((p) => p.length > 0)
    .map((p) => {
      let data = "";
      for (let i = 0; i < p.length; i += 2) data += `${i === 0 ? "M" : "L"}${mm(p[i])} ${mm(p[i + 1])}`;
      return closed ? `${data}Z` : data;
    })
    .join("");
}

function markSvg(mark: Mark): string {
  if (mark.kind === "group") {
    const title = mark.title === undefined ? "" : `<title>${escaped(mark.title)}</title>`;
    return `<g data-name="${escaped(mark.name)}">${title}${mark.marks.map(markSvg).join("")}</g>`;
  }
  if (mark.kind === "path") {
    if (mark.pieces.length === 0) return "";
    const classes = [mark.fill === undefined ? "none" : `f-${mark.fill}`];
    let extra = "";
    if (mark.fill !== undefined && mark.pieces.length > 1) extra += ` fill-rule="evenodd"`;
    if (mark.stroke !== undefined) {
      classes.push(`s-${mark.stroke.ink}`);
      extra += ` stroke-width="${mm(mark.stroke.widthMm)}"`;
      if (mark.stroke.dashMm !== undefined)
        extra += ` stroke-dasharray="${mark.stroke.dashMm.map(mm).join(" ")}"`;
    }
    return `<path class="${classes.join(" ")}"${extra} d="${pathData(mark.pieces, mark.closed)}"/>`;
  }
  const anchor = mark.anchor === undefined || mark.anchor === "start" ? "" : ` text-anchor="${mark.anchor}"`;
  const turn =
    mark.turnDeg === undefined
      ? ""
      : ` transform="rotate(${mm(mark.turnDeg)} ${mm(mark.xMm)} ${mm(mark.yMm)})"`;
  const style = `${mark.bold ? ` font-weight="600"` : ""}${mark.italic ? ` font-style="italic"` : ""}`;
  return `<text class="f-${mark.ink}" x="${mm(mark.xMm)}" y="${mm(mark.yMm)}" font-size="${mm(mark.sizeMm)}"${anchor}${turn}${style}>${escaped(mark.text)}</text>`;
}

/**
 * The drawing as an SVG element to be set into a page that carries the ink rules. `id` must be unique on the page: it
 * names the title and the description for screen readers.
 */
export function svgElement(drawing: Drawing, id: string): string {
  const { widthMm, heightMm } = drawing;
  return (
    `<svg viewBox="0 0 ${mm(widthMm)} ${mm(heightMm)}" role="img" aria-labelledby="${id}-t ${id}-d">` +
    `<title id="${id}-t">${escaped(drawing.title)}</title><desc id="${id}-d">${escaped(drawing.description)}</desc>` +
    `${drawing.marks.map(markSvg).join("")}</svg>`
  );
}

/** Lettering of drawings, and what every path has unless it says otherwise. */
export const svgRules = `svg text{font-family:var(--lettering);font-variant-numeric:tabular-nums}svg path{stroke-linejoin:round;stroke-linecap:butt}svg .none{fill:none}${inkRules()}`;

/** The drawing as a file of its own, true to size when printed at 100 %. */
export function svgFile(drawing: Drawing): string {
  const { widthMm, heightMm } = drawing;
  const style = `svg{${inkProperties(day)}--lettering:sans-serif;background:var(--paper)}${svgRules}`;
  return svgElement(drawing, "drawing")
    .replace(
      "<svg ",
      `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(widthMm)}mm" height="${mm(heightMm)}mm" `,
    )
    .replace("</desc>", `</desc><style>${style}</style>`);
}
