import {
  durationFactor,
  glueStrength,
  moistureFactor,
  type StrengthFactor,
  type StrengthKind,
  strengthOf,
  temperatureFactor,
} from "#engine/woods";

/** Glue lines part in shear, or are pulled open (peel, tension across the film). */
export type GlueFailure = "glue-shear" | "glue-peel";

/** The greatest stress of one kind in one part, its size in Pa. */
export interface StressEntry {
  /** "top", "ray 2 of the top", "bridge". */
  readonly part: string;
  readonly kind: StrengthKind | GlueFailure;
  readonly stress: number;
  /** Body frame; null where it has no one place. */
  readonly place: { readonly x: number; readonly y: number } | null;
  /** Woods that it may break, by the table's names (both sides of a glue line); a null is a wood without a species. */
  readonly woods: readonly (string | null)[];
  /** The document's word for the glue of a glue line, null where it says none. */
  readonly glue: string | null;
  /**
   * True for the stress at a point where an elastic model has a peak (edge of a glue line, end of a brace, edge of a patch): wood and
   * glue give there before they part, so a margin below 1 is told but is no proof of breakage.
   */
  readonly peak: boolean;
}

/** Air and time that the strength is taken at. */
export interface LoadConditions {
  /** "strings at pitch, 50 years, shop air". */
  readonly name: string;
  /** Moisture of the wood, fraction. */
  readonly moisture: number;
  /** K */
  readonly temperature: number;
  /** Time under this stress, s. */
  readonly seconds: number;
}

export interface MarginRow {
  readonly part: string;
  /** "tension across the grain", "peel of the glue". */
  readonly what: string;
  readonly kind: StressEntry["kind"];
  readonly stress: number;
  readonly place: StressEntry["place"];
  readonly peak: boolean;
  readonly conditions: string;
  /** Pa, all factors in; null where the table has nothing. */
  readonly strength: number | null;
  /** One board (or joint) in twenty is weaker than this, Pa. */
  readonly weakStrength: number | null;
  readonly factors: readonly StrengthFactor[];
  /** Strength over stress, and the weak one's; null where the strength is not known or nothing pulls. */
  readonly margin: number | null;
  readonly weakMargin: number | null;
  /** What gives first, "Spruce, Sitka" or "hide glue"; why it is not known where it is not. */
  readonly rules: string;
  readonly source: string;
}

const words: Readonly<Record<StressEntry["kind"], string>> = {
  "bending-along": "bending, tension face along the grain",
  "tension-along": "tension along the grain",
  "compression-along": "compression along the grain",
  "shear-along": "shear along the grain",
  "rolling-shear": "rolling shear across the grain",
  "tension-across": "tension across the grain",
  "compression-across": "compression across the grain",
  "glue-shear": "shear of the glue line",
  "glue-peel": "peel of the glue line",
};

/** 5 % of a normal spread lie lower by so many standard deviations. */
const oneInTwenty = 1.645;

interface Bearing {
  readonly rules: string;
  readonly strength: number;
  readonly weak: number;
  readonly factors: readonly StrengthFactor[];
  readonly source: string;
}

/**
 * Every stress against what bears it: strength of the species (WH-T53) or glue, times the factors of moisture and temperature
 * (WH-MECH) and of time under load (WOOD-1951). In a glue line the weakest of both woods and the glue rules: wood in shear along the
 * grain for "glue-shear", in tension across it for "glue-peel". Size of the piece, runout and knots are not in it. Least
 * margin first, then those not known. One row an entry; entries without stress are left out.
 */
export function margins(entries: readonly StressEntry[], conditions: LoadConditions): readonly MarginRow[] {
  const rows = entries
    .filter((e) => e.stress > 0 && Number.isFinite(e.stress))
    .map((e) => marginRow(e, conditions));
  return rows.sort((a, b) => (a.margin ?? Number.POSITIVE_INFINITY) - (b.margin ?? Number.POSITIVE_INFINITY));
}

function marginRow(entry: StressEntry, conditions: LoadConditions): MarginRow {
  const bearing = weakest(entry, conditions);
  const known = typeof bearing !== "string";
  const over = (strength: number): number => strength / entry.stress;
  return {
    part: entry.part,
    what: words[entry.kind],
    kind: entry.kind,
    stress: entry.stress,
    place: entry.place,
    peak: entry.peak,
    conditions: conditions.name,
    strength: known ? bearing.strength : null,
    weakStrength: known ? bearing.weak : null,
    factors: known ? bearing.factors : [],
    margin: known ? over(bearing.strength) : null,
    weakMargin: known ? over(bearing.weak) : null,
    rules: known ? bearing.rules : bearing,
    source: known ? bearing.source : "not known",
  };
}

/** What gives first; a sentence where one of them is not known, for then the weakest is not known either. */
function weakest(entry: StressEntry, conditions: LoadConditions): Bearing | string {
  const { kind } = entry;
  const glued = kind === "glue-shear" || kind === "glue-peel";
  const woodKind = kind === "glue-shear" ? "shear-along" : kind === "glue-peel" ? "tension-across" : kind;
  const found: (Bearing | string)[] = entry.woods.map((name) =>
    name === null
      ? "the document names no species, so no strength is known"
      : woodBears(name, woodKind, conditions),
  );
  if (glued) found.push(glueBears(entry.glue, kind, conditions));
  let least: Bearing | null = null;
  for (const one of found) {
    if (typeof one === "string") return one;
    if (least === null || one.strength < least.strength) least = one;
  }
  return least ?? "no wood is named";
}

function woodBears(name: string, kind: StrengthKind, conditions: LoadConditions): Bearing | string {
  const clear = strengthOf(name, kind);
  if (clear === null) return `the table has no strength of ${name} in ${words[kind]}`;
  const warm = temperatureFactor(kind, conditions.temperature);
  if (warm === null) return "above 66 degrees Celsius wood is harmed for good: no strength is known";
  const time = durationFactor(conditions.seconds);
  if (!time.ok) return time.detail;
  const factors = [moistureFactor(clear, conditions.moisture), warm, underLoad(time.value)];
  const strength = clear.dry.value * product(factors);
  return {
    rules: clear.species,
    strength,
    weak: strength * Math.max(0, 1 - oneInTwenty * clear.dry.spread),
    factors,
    source: clear.dry.how === "read" ? clear.dry.source : `${clear.dry.source} (${clear.dry.how})`,
  };
}

function glueBears(glue: string | null, kind: GlueFailure, conditions: LoadConditions): Bearing | string {
  const found = glue === null ? null : glueStrength(glue);
  if (found === null) return "the glue is not known";
  if (conditions.temperature >= found.softens.from)
    return `${found.name} may have softened at this temperature: no strength is known`;
  const time = durationFactor(conditions.seconds);
  if (!time.ok) return time.detail;
  const short = kind === "glue-shear" ? found.shear : found.tension;
  const factors = [underLoad(time.value)];
  return {
    rules: found.name,
    strength: short.likely * product(factors),
    weak: short.low * product(factors),
    factors,
    source: found.source,
  };
}

function underLoad(factor: number): StrengthFactor {
  return { name: "time under load", factor, source: "WOOD-1951 (from memory)" };
}

function product(factors: readonly StrengthFactor[]): number {
  return factors.reduce((all, f) => all * f.factor, 1);
}
