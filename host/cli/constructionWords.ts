import type { StringConstruction } from "#engine/strings";

/** "0.012 steel"; "0.021 hex, wrap 0.0188 phosphor-bronze": as a maker orders a string, in inches. */
export function constructionWords(c: StringConstruction): string {
  if (c.kind === "plain") return `${gauge(c.diameter)} ${c.material}`;
  const core = `${gauge(c.coreDiameter)} ${c.coreShape}${c.coreMaterial === undefined || c.coreMaterial === "steel" ? "" : ` ${c.coreMaterial}`}`;
  const names = [...new Set(c.wraps.map(({ material }) => material))];
  const wires = c.wraps.map(({ diameter }) => gauge(diameter)).join(" + ");
  return `${core}, wrap ${wires} ${names.join(" + ")}`;
}

/** Inches to a tenth of a thousandth, no zeros left over. */
const gauge = (diameter: number): string => String(Number((diameter / 0.0254).toFixed(4)));
