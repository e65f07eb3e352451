import { deadFrom, isDead, isWolf, type NoteRow, wolfFrom } from "#engine/notes";
import type { NoteFigure } from "./viewTypes.ts";

/** Ink at the middle of the board, and at an index's limit, as a share of the distance between strings. */
const middleInk = 0.2;
const limitInk = 0.36;
const [leastInk, mostInk] = [0.035, 0.74];
/** What 6 dB, or twice the decay, do to the ink. */
const doubled = 1.75;

/** The figure of a note; null: not foreseen. */
export function figureOf(row: NoteRow, figure: NoteFigure): number | null {
  if (figure === "level") return row.levelDb;
  if (figure === "decay") return row.decayS;
  return figure === "wolf" ? row.wolfIndex : row.deadIndex;
}

/** The board's middle by which ink is measured: median of the level (dB) or of the decay (s); indices have their own scale, 1. */
export function middleOf(rows: readonly NoteRow[], figure: NoteFigure): number {
  if (figure === "wolf" || figure === "dead") return 1;
  const values = rows.flatMap((row) => figureOf(row, figure) ?? []).sort((a, b) => a - b);
  return values[Math.floor(values.length / 2)] ?? (figure === "level" ? 0 : 1);
}

/** Thickness of a note's ink as a share of the distance between strings: more ink is more of the figure. */
export function inkShare(value: number, figure: NoteFigure, middle: number): number {
  const share =
    figure === "level"
      ? middleInk * doubled ** ((value - middle) / 6)
      : figure === "decay"
        ? middleInk * doubled ** Math.log2(Math.max(1e-3, value / middle))
        : (limitInk * value) / (figure === "wolf" ? wolfFrom : deadFrom);
  return Math.min(mostInk, Math.max(leastInk, share));
}

/** Distance of strings that ink is measured by, px: where they lie close it is drawn somewhat stouter, to be seen at all. */
export function inkLane(lanePx: number): number {
  return Math.max(lanePx, Math.min(1.5 * lanePx, 16));
}

/** From this change on a note counts as changed: what a hand would hear or a model can tell between two designs. */
const notable: Readonly<Record<NoteFigure, number>> = { level: 1, decay: 0.1, wolf: 0.1, dead: 0.2 };

/** A note's step from one board to another: dB, share of the decay, or index. */
export interface NoteChange {
  readonly string: number;
  readonly fret: number;
  readonly before: number;
  readonly after: number;
  readonly step: number;
  /** Beyond what counts: 1 up, -1 down, 0 neither. */
  readonly way: -1 | 0 | 1;
}

/** What changed from note to note, by `noteKey`; a note foreseen in one board only is left out. */
export function noteChanges(
  before: readonly NoteRow[],
  after: readonly NoteRow[],
  figure: NoteFigure,
): ReadonlyMap<string, NoteChange> {
  const was = new Map(before.map((row) => [noteKey(row), row]));
  const changes = new Map<string, NoteChange>();
  for (const row of after) {
    const old = was.get(noteKey(row));
    const [a, b] = [old === undefined ? null : figureOf(old, figure), figureOf(row, figure)];
    if (a === null || b === null) continue;
    const step = figure === "decay" ? b / a - 1 : b - a;
    const way = Math.abs(step) < notable[figure] ? 0 : step > 0 ? 1 : -1;
    changes.set(noteKey(row), { string: row.string, fret: row.fret, before: a, after: b, step, way });
  }
  return changes;
}

export function noteKey({ string, fret }: { readonly string: number; readonly fret: number }): string {
  return `${string}/${fret}`;
}

const ways: Readonly<Record<NoteFigure, readonly [up: string, down: string]>> = {
  level: ["louder", "quieter"],
  decay: ["longer", "shorter"],
  wolf: ["nearer to a wolf", "farther from a wolf"],
  dead: ["deader", "livelier"],
};

/** What a change of this figure is called, upward and downward. */
export function changeWords(figure: NoteFigure): readonly [up: string, down: string] {
  return ways[figure];
}

/** Notes that got a mark and notes that lost one, by name: "F2 on string 6". */
export function markChanges(
  before: readonly NoteRow[],
  after: readonly NoteRow[],
  test: (row: NoteRow) => boolean,
): { readonly gained: readonly string[]; readonly lost: readonly string[] } {
  const [was, is] = [before.filter(test), after.filter(test)];
  const missing = (from: readonly NoteRow[], of: readonly NoteRow[]) =>
    from
      .filter((row) => !of.some((other) => noteKey(other) === noteKey(row)))
      .map((row) => `${row.note} on string ${row.string}`);
  return { gained: missing(is, was), lost: missing(was, is) };
}

/** One sentence on what changed from one board to the other. */
export function sayChanges(
  before: readonly NoteRow[],
  after: readonly NoteRow[],
  figure: NoteFigure,
): string {
  const changes = [...noteChanges(before, after, figure).values()];
  const count = (way: -1 | 1) => changes.filter((c) => c.way === way).length;
  const [up, down] = ways[figure];
  const of = (n: number) => `${n} ${n === 1 ? "note" : "notes"}`;
  const moved =
    count(1) + count(-1) === 0
      ? `no note changed by ${sayNotable(figure)}`
      : `${of(count(1))} ${up}, ${of(count(-1))} ${down} by ${sayNotable(figure)} or more`;
  const marks = [
    ["wolf", markChanges(before, after, isWolf)],
    ["dead", markChanges(before, after, isDead)],
  ] as const;
  const told = marks.flatMap(([word, { gained, lost }]) => [
    ...(gained.length > 0 ? [`now ${word}: ${few(gained)}`] : []),
    ...(lost.length > 0 ? [`no longer ${word}: ${few(lost)}`] : []),
  ]);
  const sentence = [moved, ...told].join("; ");
  return `${sentence[0]!.toUpperCase()}${sentence.slice(1)}.`;
}

function few(names: readonly string[]): string {
  return names.length <= 3
    ? names.join(", ")
    : `${names.slice(0, 3).join(", ")} and ${names.length - 3} more`;
}

function sayNotable(figure: NoteFigure): string {
  return figure === "level" ? "1 dB" : figure === "decay" ? "10 %" : figure === "wolf" ? "0.1" : "0.2";
}
