import { nearestWord } from "#engine/units";
import { species } from "./species.data.ts";
import type { OrthotropicWood, SourcedValue, SpeciesRecord } from "./wood.ts";

/** A wood of the table as a plate cut on the quarter, with the coefficient of variation of each of its values. */
export interface CatalogueWood {
  readonly record: SpeciesRecord;
  readonly wood: OrthotropicWood;
  /** Coefficients of variation between trees, dimensionless. */
  readonly spread: OrthotropicWood;
}

/** "Sitka spruce" and "Spruce, Sitka" are one name: words in order, small letters. */
function plainName(name: string): string {
  return name
    .toLowerCase()
    .split(/[^a-z]+/)
    .filter((word) => word !== "")
    .sort()
    .join(" ");
}

function orthotropic(record: SpeciesRecord, of: (value: SourcedValue) => number): OrthotropicWood {
  const { density, EL, ER, nuLR, GLR, GLT, GRT, loss } = record;
  return {
    density: of(density),
    EL: of(EL),
    ER: of(ER),
    nuLR: of(nuLR),
    GLR: of(GLR),
    GLT: of(GLT),
    GRT: of(GRT),
    loss: { L: of(loss.L), R: of(loss.R), LR: of(loss.LR), transverse: of(loss.transverse) },
  };
}

/**
 * The wood of that name at 12 % moisture, or null. The order of the words, case and commas do not matter.
 * Species means: a single board may differ by the spreads given (physics of a board is measured, not looked up).
 */
export function catalogueWood(name: string): CatalogueWood | null {
  const wanted = plainName(name);
  const record = species.find((s) => plainName(s.name) === wanted);
  if (record === undefined) return null;
  return { record, wood: orthotropic(record, (v) => v.value), spread: orthotropic(record, (v) => v.spread) };
}

/** The species whose name is nearest to a misspelt one, or null when none is near enough to be worth naming. */
export function nearestSpecies(name: string): string | null {
  const byPlain = new Map(species.map((s) => [plainName(s.name), s.name]));
  const near = nearestWord(plainName(name), byPlain.keys());
  return near === null ? null : (byPlain.get(near) ?? null);
}

export { species };
