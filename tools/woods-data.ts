/**
 * Writes engine/woods/species.data.ts from proofs/reference/wood-properties.json: node tools/run.mjs tools/woods-data.ts
 *
 * What the tables do not give is filled in here, by rules stated in the note of each value and marked `assumed` or
 * `memory`. Nothing is filled in silently.
 */
import { readFileSync, writeFileSync } from "node:fs";
import type { Provenance, SourcedValue, SpeciesRecord } from "#engine/woods";

interface Ratios {
  ET_EL: number | null;
  ER_EL: number | null;
  GLR_EL: number | null;
  GLT_EL: number | null;
  GRT_EL: number | null;
}

interface Row {
  species: string;
  scientific: string;
  density12_kg_m3: number;
  EL_GPa: number;
  MOR_MPa?: number;
  bending_source: string;
  bending_how: string;
  ratios?: Ratios;
  ratios_source?: string;
  ratios_how?: string;
  poisson?: { LR: number | null; LT: number | null; RT: number | null };
  poisson_source?: string;
  poisson_how?: string;
  shrinkage_pct?: { radial: number; tangential: number };
  shrinkage_source?: string;
  shrinkage_how?: string;
  Mp_pct: number;
}

const text = readFileSync(new URL("../proofs/reference/wood-properties.json", import.meta.url), "utf8");
const rows: Row[] = JSON.parse(text).species;

/** Coefficients of variation between trees: density and EL from the handbook (memory), the rest a judgement. */
const spreads = {
  density: 0.1,
  EL: 0.22,
  ratio: 0.2,
  poisson: 0.15,
  loss: 0.3,
  shrinkage: 0.15,
  rupture: 0.16,
};
/** Extra variation of a value that another species stands in for. */
const standInSpread = 0.25;

/** Species that stand in for one whose elastic ratios are not tabulated. */
const standIns: Record<string, readonly string[]> = {
  "Spruce, red": ["Spruce, Sitka", "Spruce, Engelmann"],
  "Spruce, white": ["Spruce, Sitka", "Spruce, Engelmann"],
  "Spruce, black": ["Spruce, Sitka", "Spruce, Engelmann"],
  "Spruce, European": ["Spruce, Sitka", "Spruce, Engelmann"],
  "Cedar, Port-Orford": ["Cedar, western red"],
  "Cedar, yellow": ["Cedar, western red"],
  "Cedar, incense": ["Cedar, western red"],
  "Maple, bigleaf": ["Maple, sugar", "Maple, red"],
  "Maple, silver": ["Maple, sugar", "Maple, red"],
  "Beech, American": ["Maple, sugar", "Ash, white", "Oak, red", "Oak, white"],
  "Sycamore, American": ["Maple, red", "Sweetgum"],
  "Alder, red": ["Yellow-poplar", "Birch, yellow"],
  "Aspen, quaking": ["Cottonwood, eastern", "Yellow-poplar"],
  "Rosewood, Indian": ["Maple, sugar", "Ash, white", "Oak, red", "Oak, white"],
  "Rosewood, Brazilian": ["Maple, sugar", "Ash, white", "Oak, red", "Oak, white"],
  "Ebony, African": ["Maple, sugar", "Ash, white", "Oak, red", "Oak, white"],
};

/** Woods of the trade that the tables do not hold, wholly from memory. */
const fromMemory: readonly Row[] = [
  {
    species: "Spruce, European",
    scientific: "Picea abies",
    density12_kg_m3: 430,
    EL_GPa: 11.5,
    bending_source: "from memory",
    bending_how: "memory",
    shrinkage_pct: { radial: 3.6, tangential: 7.8 },
    shrinkage_source: "from memory",
    shrinkage_how: "memory",
    Mp_pct: 25,
  },
  {
    species: "Ebony, African",
    scientific: "Diospyros crassiflora",
    density12_kg_m3: 1050,
    EL_GPa: 17,
    bending_source: "from memory",
    bending_how: "memory",
    shrinkage_pct: { radial: 8, tangential: 11 },
    shrinkage_source: "from memory",
    shrinkage_how: "memory",
    Mp_pct: 25,
  },
];

const softwoods = ["Spruce", "Redwood", "Cedar", "Douglas-fir", "Baldcypress", "Hemlock", "Larch", "Fir"];
const isSoftwood = (name: string) => softwoods.some((word) => name.startsWith(word));

/** Loss factors of the constants near 12 % moisture and some hundred hertz, by kind of wood: from memory. */
function lossOf(name: string): Record<keyof SpeciesRecord["loss"], number> {
  if (/^Cedar/.test(name)) return { L: 0.0075, R: 0.018, LR: 0.016, transverse: 0.018 };
  if (/^(Rosewood|Ebony)/.test(name)) return { L: 0.0065, R: 0.013, LR: 0.012, transverse: 0.015 };
  if (/^Mahogany/.test(name)) return { L: 0.0085, R: 0.018, LR: 0.016, transverse: 0.02 };
  if (isSoftwood(name)) return { L: 0.007, R: 0.02, LR: 0.0175, transverse: 0.02 };
  return { L: 0.01, R: 0.021, LR: 0.019, transverse: 0.021 };
}

const rounded = (v: number) => Number(v.toPrecision(4));

function provenance(how: string | undefined): Provenance {
  if (how === undefined) return "assumed";
  return how.startsWith("memory") ? "memory" : "read";
}

function sourced(
  value: number,
  source: string,
  how: Provenance,
  spread: number,
  note?: string,
): SourcedValue {
  return {
    value: rounded(value),
    source,
    how,
    spread: rounded(spread),
    ...(note === undefined ? {} : { note }),
  };
}

function named(name: string): Row {
  const row = rows.find((r) => r.species === name);
  if (row === undefined) throw new Error(`no species ${name}`);
  return row;
}

const mean = (values: readonly number[]) => values.reduce((s, v) => s + v, 0) / values.length;

/** Tabulated value of a pick over all rows that have it and pass the filter. */
function tabulated(pick: (row: Row) => number | null | undefined, among = (_: Row) => true): number[] {
  return rows.filter(among).flatMap((row) => pick(row) ?? []);
}

/** A modulus as ratio x EL, with the ratio's origin, or a stand-in's. */
function modulus(row: Row, key: keyof Ratios): SourcedValue {
  const spread = Math.hypot(spreads.EL, spreads.ratio);
  const EL = row.EL_GPa * 1e9;
  const own = row.ratios?.[key];
  if (own != null) return sourced(own * EL, row.ratios_source!, provenance(row.ratios_how), spread);
  const wide = Math.hypot(spread, standInSpread);
  const { ratio, note } = filledRatio(row, key);
  return sourced(ratio * EL, row.ratios_source ?? "WH-ELASTIC", "assumed", wide, note);
}

function filledRatio(row: Row, key: keyof Ratios): { ratio: number; note: string } {
  if (row.ratios !== undefined && key === "GRT_EL") {
    const part = mean(
      tabulated(
        (r) =>
          r.ratios?.GRT_EL != null && r.ratios.GLT_EL != null ? r.ratios.GRT_EL / r.ratios.GLT_EL : null,
        (r) => !isSoftwood(r.species),
      ),
    );
    return {
      ratio: part * (row.ratios.GLT_EL ?? filledRatio(row, "GLT_EL").ratio),
      note: "GRT is not tabulated: GRT/GLT taken as the mean of the tabulated hardwoods",
    };
  }
  if (row.ratios !== undefined && key === "GLT_EL") {
    const oak = named("Oak, red").ratios!;
    return {
      ratio: (row.ratios.GLR_EL! * oak.GLT_EL!) / oak.GLR_EL!,
      note: "GLT is not tabulated: GLT/GLR taken from red oak",
    };
  }
  const from = standIns[row.species];
  if (from === undefined) throw new Error(`${row.species} has no ${key} and no stand-in`);
  const values = from.map((name) => {
    const other = named(name);
    return other.ratios?.[key] ?? filledRatio(other, key).ratio;
  });
  return { ratio: mean(values), note: `not tabulated: ratio to EL taken as the mean of ${from.join("; ")}` };
}

function poisson(row: Row, key: "LR" | "LT" | "RT"): SourcedValue {
  const own = row.poisson?.[key];
  if (own != null) return sourced(own, row.poisson_source!, provenance(row.poisson_how), spreads.poisson);
  const from = standIns[row.species] ?? [];
  const values = from.flatMap((name) => named(name).poisson?.[key] ?? []);
  if (values.length === 0) throw new Error(`${row.species} has no Poisson ratio ${key} and no stand-in`);
  return sourced(
    mean(values),
    "WH-ELASTIC",
    "assumed",
    Math.hypot(spreads.poisson, standInSpread),
    `not tabulated: mean of ${from.join("; ")}`,
  );
}

function record(row: Row): SpeciesRecord {
  const bendingHow = provenance(row.bending_how);
  const loss = lossOf(row.species);
  const lossNote = "near 12 % moisture and some hundred hertz; rises with frequency and moisture";
  const lossValue = (v: number) => sourced(v, "from memory", "memory", spreads.loss, lossNote);
  const shrink = (pct: number) =>
    sourced(pct / 100, row.shrinkage_source!, provenance(row.shrinkage_how), spreads.shrinkage);
  const printed = row.bending_source !== "from memory";
  return {
    name: row.species,
    scientific: row.scientific,
    density: sourced(row.density12_kg_m3, row.bending_source, bendingHow, spreads.density),
    EL: sourced(
      row.EL_GPa * 1e9,
      row.bending_source,
      printed ? (bendingHow === "read" ? "derived" : "memory") : "memory",
      spreads.EL,
      printed ? "1.10 x the bending modulus of the table (the factor from memory)" : undefined,
    ),
    ER: modulus(row, "ER_EL"),
    ET: modulus(row, "ET_EL"),
    nuLR: poisson(row, "LR"),
    nuLT: poisson(row, "LT"),
    nuRT: poisson(row, "RT"),
    GLR: modulus(row, "GLR_EL"),
    GLT: modulus(row, "GLT_EL"),
    GRT: modulus(row, "GRT_EL"),
    loss: {
      L: lossValue(loss.L),
      R: lossValue(loss.R),
      LR: lossValue(loss.LR),
      transverse: lossValue(loss.transverse),
    },
    shrinkage:
      row.shrinkage_pct === undefined
        ? null
        : { radial: shrink(row.shrinkage_pct.radial), tangential: shrink(row.shrinkage_pct.tangential) },
    modulusOfRupture:
      row.MOR_MPa === undefined
        ? null
        : sourced(row.MOR_MPa * 1e6, row.bending_source, bendingHow, spreads.rupture),
    intersectionMoisture: sourced(row.Mp_pct / 100, "WH-MECH", "read", 0.1),
  };
}

/** The text of engine/woods/species.data.ts. */
export function speciesDataText(): string {
  const records = [...rows, ...fromMemory].map(record).sort((a, b) => (a.name < b.name ? -1 : 1));
  const lines = records.map((r) => `  ${JSON.stringify(r)},`).join("\n");
  return [
    "// Written by tools/woods-data.ts from proofs/reference/wood-properties.json: do not edit.",
    'import type { SpeciesRecord } from "./wood.ts";',
    "",
    "/** Woods at 12 % moisture, SI, by name. */",
    "// biome-ignore-start lint/suspicious/noApproximativeNumericConstant: 0.434 is a Poisson ratio, no logarithm",
    "// biome-ignore format: one record a line",
    `export const species: readonly SpeciesRecord[] = [\n${lines}\n];`,
    "// biome-ignore-end lint/suspicious/noApproximativeNumericConstant: see above\n",
  ].join("\n");
}

if (process.argv[1]?.endsWith("run.mjs") && process.argv.includes("--write")) {
  writeFileSync(new URL("../engine/woods/species.data.ts", import.meta.url), speciesDataText());
}
