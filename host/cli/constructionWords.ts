import type { ConstructionRow } from "#engine/pipeline";

/** "0.012 steel"; "0.021 hex, wrap 0.0188 phosphor-bronze": as a maker orders a string, in inches. */
export function constructionWords(c: ConstructionRow): string {
  if (c.kind === "plain") return `${gauge(c.diameterM)} ${c.material}`;
  const core = `${gauge(c.coreM)} ${c.coreShape}${c.coreMaterial === "steel" ? "" : ` ${c.coreMaterial}`}`;
  const names = [...new Set(c.wraps.map(({ material }) => material))];
  const wires = c.wraps.map(({ diameterM }) => gauge(diameterM)).join(" + ");
  return `${core}, wrap ${wires} ${names.join(" + ")}`;
}

/** Inches to a tenth of a thousandth, no zeros left over. */
const gauge = (diameter: number): string => String(Number((diameter / 0.0254).toFixed(4)));
