import type { CreepAhead, MarginRow } from "#engine/verdicts";

/** One row of the margin table, as the JSON contract has it. */
export interface MarginReport {
  readonly part: string;
  readonly what: string;
  /** Air and time that the strength is taken at. */
  readonly conditions: string;
  readonly stressPa: number;
  /** With its factors; null where it is not known. */
  readonly strengthPa: number | null;
  /** One board or joint in twenty is weaker. */
  readonly weakStrengthPa: number | null;
  readonly factors: readonly { readonly name: string; readonly factor: number; readonly source: string }[];
  readonly margin: number | null;
  readonly weakMargin: number | null;
  readonly placeM: readonly [x: number, y: number] | null;
  /** A single point where stiffness changes at once: watched, never a stop. */
  readonly peak: boolean;
  /** What gives first, or why it is not known. */
  readonly rules: string;
  readonly source: string;
}

export function marginReport(row: MarginRow): MarginReport {
  return {
    part: row.part,
    what: row.what,
    conditions: row.conditions,
    stressPa: row.stress,
    strengthPa: row.strength,
    weakStrengthPa: row.weakStrength,
    factors: row.factors,
    margin: row.margin,
    weakMargin: row.weakMargin,
    placeM: row.place === null ? null : [row.place.x, row.place.y],
    peak: row.peak,
    rules: row.rules,
    source: row.source,
  };
}

/** The least firm row of each way of breaking; rows come least first. */
export function leastOfEach(rows: readonly MarginRow[]): readonly MarginRow[] {
  const firm = rows.filter((r) => !r.peak && r.margin !== null);
  return firm.filter((row, i) => firm.findIndex((r) => r.kind === row.kind) === i);
}

/** What an elastic deflection is multiplied by after years of steady load. */
export interface CreepReport {
  readonly years: number;
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  readonly source: string;
  readonly validity: string;
}

export function creepReport({ years, range }: CreepAhead): CreepReport {
  return { years, ...range };
}
