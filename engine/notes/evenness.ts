import type { Evenness, NoteRow, WorstNote } from "./board.ts";

/** Frets that count, and how many notes are named. */
const lastFret = 15;
const named = 6;
/** dB from the median that weighs as much as an index at its threshold. */
const levelAllowance = 6;

/**
 * Spread of level over frets 0 to 15 of all strings, 95th minus 5th percentile (linear between ranks), and the worst
 * notes: an index over its threshold (wolf 1, dead 2), or a level far from the median, in units of their thresholds
 * (6 dB: engineering judgement). Even is not the same as good.
 */
export function evenness(rows: readonly NoteRow[]): Evenness {
  const inRange = rows.filter((r) => r.fret <= lastFret);
  const levels = inRange.flatMap((r) => (r.levelDb === null ? [] : [r.levelDb])).sort((a, b) => a - b);
  const median = levels.length > 0 ? percentile(levels, 0.5) : 0;
  const worst: { note: WorstNote; weight: number }[] = [];
  for (const r of inRange) {
    const off = r.levelDb === null ? 0 : r.levelDb - median;
    const faults: readonly (readonly [WorstNote["why"], number, number])[] = [
      ["wolf", r.wolfIndex ?? 0, r.wolfIndex ?? 0],
      ["dead", r.deadIndex ?? 0, (r.deadIndex ?? 0) / 2],
      [off > 0 ? "loud" : "quiet", off, Math.abs(off) / levelAllowance],
    ];
    const [why, figure, weight] = faults.reduce((a, b) => (b[2] > a[2] ? b : a));
    if (weight >= 1)
      worst.push({ note: { string: r.string, fret: r.fret, note: r.note, why, figure }, weight });
  }
  worst.sort((a, b) => b.weight - a.weight);
  return {
    levelSpreadDb: levels.length < 2 ? null : percentile(levels, 0.95) - percentile(levels, 0.05),
    notesCounted: levels.length,
    notesInRange: inRange.length,
    worst: worst.slice(0, named).map((w) => w.note),
  };
}

/** Percentile of ascending values, linear between ranks. */
export function percentile(sorted: readonly number[], share: number): number {
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below]! + (place - below) * (sorted[above]! - sorted[below]!);
}
