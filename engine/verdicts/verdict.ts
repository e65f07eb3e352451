/** How far a verdict goes. `stop` (do not cut yet) is for fit, breakage, safety and papers only. */
export type Level = "good" | "watch" | "stop";

/**
 * One judgement on the design, in words that a maker reads, with the numbers behind the words.
 * All text carries its units; `figures` is plain SI (m, N, rad, Hz, s) or a pure ratio.
 */
export interface Verdict {
  /** Stable key by which the maker marks it meant: "wolf-risk", "string-strength", ... */
  readonly id: string;
  readonly title: string;
  readonly level: Level;
  /** What was computed, with its unit. */
  readonly computed: string;
  /** The limit it was held against, with its unit. */
  readonly limit: string;
  /** Where the limit comes from: a key of docs/sources.json with words, or "common practice, no source". */
  readonly source: string;
  /** Why the level is what it is: the reasoning in one or two sentences. */
  readonly why: string;
  /** The strongest levers, in shop words. */
  readonly whatWouldChange: string;
  /** How sure the figure is (one sigma), or that the verdict carried no spread. */
  readonly sureness: string;
  readonly figures: Readonly<Record<string, number>>;
  /** True if someone can be hurt by it: then a stop keeps counting even when it is meant. */
  readonly canHurt: boolean;
  /** The maker's reason for wanting it so; absent if the maker has not marked it. */
  readonly meant?: string;
}

/** The maker's mark on a verdict: "I mean it, because ...". */
export interface MeantMark {
  /** The verdict's id. */
  readonly verdict: string;
  readonly reason: string;
}

/** A range that the maker aims at, SI (dB for levels); either end may be open. */
export interface TargetRange {
  readonly low: number | null;
  readonly high: number | null;
}

/** By how much a value misses a range: 0 inside, negative below it, positive above it. */
export function missOf(value: number, target: TargetRange): number {
  if (target.low !== null && value < target.low) return value - target.low;
  if (target.high !== null && value > target.high) return value - target.high;
  return 0;
}

/** "96 Hz to 104 Hz", "at least 96 Hz", "at most 104 Hz". */
export function sayTarget(target: TargetRange, say: (value: number) => string): string {
  if (target.low === null) return target.high === null ? "anything" : `at most ${say(target.high)}`;
  return target.high === null ? `at least ${say(target.low)}` : `${say(target.low)} to ${say(target.high)}`;
}

/**
 * Puts the maker's marks on the verdicts; level and wording stay as they were. A mark without a reason is no mark. A
 * mark whose id names no verdict comes back in `unknown`, so that the caller can say so instead of losing it.
 */
export function markMeant(
  verdicts: readonly Verdict[],
  marks: readonly MeantMark[],
): { readonly verdicts: readonly Verdict[]; readonly unknown: readonly string[] } {
  const reasons = new Map(
    marks.filter((m) => m.reason.trim() !== "").map((m) => [m.verdict, m.reason.trim()]),
  );
  const ids = new Set(verdicts.map((v) => v.id));
  return {
    verdicts: verdicts.map((v) => {
      const meant = reasons.get(v.id);
      return meant === undefined ? v : { ...v, meant };
    }),
    unknown: marks.map((m) => m.verdict).filter((id) => !ids.has(id)),
  };
}

/**
 * True if the verdict holds the work up: a `stop` that is not meant, or one by which someone can be hurt, meant or not.
 * A reason can justify a departure from custom; it cannot make a string hold that breaks at pitch. So a meant `stop` on
 * fit steps aside, and a meant `stop` on breakage under tension is shown with its reason and still holds.
 */
export function holdsUp(verdict: Verdict): boolean {
  return verdict.level === "stop" && (verdict.meant === undefined || verdict.canHurt);
}

/** Exit status of a command that gave these verdicts: 1 if any of them holds the work up, else 0. */
export function exitStatus(verdicts: readonly Verdict[]): 0 | 1 {
  return verdicts.some(holdsUp) ? 1 : 0;
}

/** The graver of two levels. */
export function graver(a: Level, b: Level): Level {
  const order: readonly Level[] = ["good", "watch", "stop"];
  return order.indexOf(a) >= order.indexOf(b) ? a : b;
}
