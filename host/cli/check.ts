import { type Answer, good } from "./answer.ts";
import type { OpenInstrument } from "./instrument.ts";
import { kilograms, litres, millimetresOf, table, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout check`: says that the document is whole, and what it amounts to in shop words. */
export function check(instrument: OpenInstrument, { json = false }: VerbOptions): Answer {
  const { build, geometry, remarks } = instrument;
  const { plan } = geometry;
  const facts = {
    name: build.name,
    hand: build.body.hand,
    bodyLengthM: plan.length,
    netVolumeM3: plan.netVolume,
    topAreaM2: plan.areas.top,
    holeAreaM2: plan.areas.holeInside,
    holeMeetsEdge: plan.holeMeetsEdge,
    rimMassKg: build.rimParts.reduce((sum, part) => sum + part.mass, 0),
  };
  if (json) return good(JSON.stringify({ ok: true, ...facts, remarks }, null, 2));
  return good(
    `${build.name}: the document is whole\n\n${table([
      ["body length", millimetresOf(facts.bodyLengthM)],
      ["air inside, net", litres(facts.netVolumeM3)],
      ["top, hole taken out", `${(facts.topAreaM2 * 1e4).toFixed(0)} cm2`],
      [
        "hole",
        `${(facts.holeAreaM2 * 1e4).toFixed(0)} cm2${facts.holeMeetsEdge ? ", meets the body's edge" : ""}`,
      ],
      ["blocks, neck and fittings", kilograms(facts.rimMassKg)],
    ])}\n${remarks.length === 0 ? "" : `\nWorth a look\n\n${remarks.map((remark) => wrapped(remark, "  ", "    ")).join("\n")}\n`}`,
  );
}
