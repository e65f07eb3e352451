/** Strings, slots and board edges in the plane, for parallel and skewed scales. */
import { done, failed, type Outcome } from "#engine/numerics";
import type { Point } from "../polygon.ts";
import type { BoardSpec, StringSpacing } from "./boardSpec.ts";
import { stringShares } from "./spacing.ts";
import { fretFraction, squareFraction } from "./temperament.ts";

/** One string; string 1 is the highest. */
export interface StringPath {
  readonly string: number;
  readonly scaleLength: number;
  readonly nut: Point;
  readonly saddle: Point;
  /** Nut to fret along the string, m; index 0 is the nut. With a slanted slot and strings spaced by gaps: where the slot crosses it. */
  readonly fretDistance: Float64Array;
}

/** One slot, its ends on the board's edges. Angle from the perpendicular to the centreline, positive if the bass end is nearer the bridge, rad. */
export interface FretSlot {
  readonly fret: number;
  readonly bass: Point;
  readonly treble: Point;
  readonly angle: number;
  readonly length: number;
}

/** A straight line in the plane between its bass and its treble end. */
export interface BoardLine {
  readonly bass: Point;
  readonly treble: Point;
  readonly angle: number;
}

/** Board frame: origin where the nut line crosses the centreline, x toward the bridge, y toward the bass side, m. */
export interface BoardLayout {
  readonly strings: readonly StringPath[];
  readonly slots: readonly FretSlot[];
  /** Across the board. */
  readonly nutLine: BoardLine;
  /** From outer string to outer string. */
  readonly saddleLine: BoardLine;
  /** Edges from the nut to the board's end, as [nut end, far end]. */
  readonly bassEdge: readonly [Point, Point];
  readonly trebleEdge: readonly [Point, Point];
}

const evenCentres: StringSpacing = { nut: "centres", saddle: "centres", diameters: [] };

/** How far the board runs on past the last fret at least, m: common practice, no source. */
const boardOverrun = 0.004;

/** Angle of a line from the perpendicular to the centreline, positive if its bass end is nearer the bridge, rad. */
function lineAngle(bass: Point, treble: Point): number {
  return Math.atan2(bass[0] - treble[0], bass[1] - treble[1]);
}

/** The point at fraction f from a to b. */
function between(a: Point, b: Point, f: number): Point {
  return [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1])];
}

/** Fraction of the way from nut to saddle at which a line crosses the string. */
function crossedAt(nut: Point, saddle: Point, [a, b]: readonly [Point, Point]): number {
  const [ux, uy] = [saddle[0] - nut[0], saddle[1] - nut[1]];
  const [vx, vy] = [b[0] - a[0], b[1] - a[1]];
  return ((a[0] - nut[0]) * vy - (a[1] - nut[1]) * vx) / (ux * vy - uy * vx);
}

/**
 * Lays out the board. Each outer string runs straight from its nut point to its saddle point, its scale measured along
 * it; the fret numbered `squareFret` stands square to the centreline, which fixes how the two scales lie against each
 * other; nut and saddle are straight lines with the inner strings on them. A fret at fraction f of the outer strings lies
 * at nut + f (saddle - nut) on both, its slot straight through these two points. Inner strings that share nut and saddle
 * line alike (by centres) are then divided at f to the last digit. Spaced by gaps on a skewed scale they are not quite:
 * no straight slot does that; the fret stands where the slot crosses the string (a few hundredths of a millimetre off).
 * Fails: 'board-does-not-fit' (spread against scale, widths), 'temperament' (table too short or not rising), 'spacing',
 * 'frets-cross' (two slots meet on the board, or one does not cross both edges).
 */
export function boardLayout(spec: BoardSpec): Outcome<BoardLayout> {
  const fault = boardFault(spec);
  if (fault !== null) return failed("board-does-not-fit", fault);
  const fractions = new Float64Array(spec.frets + 1);
  for (let fret = 0; fret <= spec.frets; fret++) {
    const fraction = fretFraction(spec.temperament, fret);
    if (!fraction.ok) return fraction;
    fractions[fret] = fraction.value;
  }
  const square = squareFraction(spec.temperament, spec.squareFret);
  if (!square.ok) return square;

  const halfSpreadNut = spec.stringSpreadNut / 2;
  const halfSpreadSaddle = spec.stringSpreadSaddle / 2;
  const slant = halfSpreadSaddle - halfSpreadNut;
  const alongBass = Math.sqrt(spec.bassScale ** 2 - slant ** 2);
  const alongTreble = Math.sqrt(spec.trebleScale ** 2 - slant ** 2);
  // Square fret: nutBass + f alongBass = nutTreble + f alongTreble, with nutBass + nutTreble = 0.
  const nutBassX = (square.value * (alongTreble - alongBass)) / 2;
  const nutBass: Point = [nutBassX, halfSpreadNut];
  const nutTreble: Point = [-nutBassX, -halfSpreadNut];
  const saddleBass: Point = [nutBassX + alongBass, halfSpreadSaddle];
  const saddleTreble: Point = [-nutBassX + alongTreble, -halfSpreadSaddle];

  const lineAt = (f: number): readonly [Point, Point] => [
    between(nutBass, saddleBass, f),
    between(nutTreble, saddleTreble, f),
  ];
  const { nut: ruleNut, saddle: ruleSaddle, diameters } = spec.spacing ?? evenCentres;
  const sharesNut = stringShares(spec.strings, spec.stringSpreadNut, ruleNut, diameters);
  if (!sharesNut.ok) return sharesNut;
  const sharesSaddle = stringShares(spec.strings, spec.stringSpreadSaddle, ruleSaddle, diameters);
  if (!sharesSaddle.ok) return sharesSaddle;
  const strings = sharesNut.value.map((share, k): StringPath => {
    const nut = between(nutTreble, nutBass, share);
    const saddle = between(saddleTreble, saddleBass, sharesSaddle.value[k]);
    const scaleLength = Math.hypot(saddle[0] - nut[0], saddle[1] - nut[1]);
    const alike = share === sharesSaddle.value[k];
    const fretDistance = fractions.map((f) => scaleLength * (alike ? f : crossedAt(nut, saddle, lineAt(f))));
    return { string: k + 1, scaleLength, nut, saddle, fretDistance };
  });

  const lastFret = lineAt(fractions[spec.frets]);
  const endStation = spec.endStation ?? (lastFret[0][0] + lastFret[1][0]) / 2;
  if (!(endStation > 0)) return failed("board-does-not-fit", `the board ends ${endStation} m from the nut`);
  const widening = (spec.endWidth - spec.nutWidth) / 2 / endStation;
  /** Where the line through two points meets the edge y = sign (nutWidth/2 + widening x); null if it runs along it. */
  const onEdge = (line: readonly [Point, Point], sign: number): Point | null => {
    const [a, b] = line;
    const dx = b[0] - a[0];
    const dy = b[1] - a[1];
    const rate = dy - sign * widening * dx;
    if (Math.abs(rate) <= 1e-9 * Math.hypot(dx, dy)) return null;
    const u = (sign * (spec.nutWidth / 2 + widening * a[0]) - a[1]) / rate;
    return [a[0] + u * dx, a[1] + u * dy];
  };
  const crossing = (f: number): BoardLine | null => {
    const line = lineAt(f);
    const bass = onEdge(line, 1);
    const treble = onEdge(line, -1);
    if (bass === null || treble === null || !(bass[1] > treble[1])) return null;
    return { bass, treble, angle: lineAngle(bass, treble) };
  };

  const nutLine = crossing(0);
  if (nutLine === null) return failed("frets-cross", "the nut line does not cross both edges of the board");
  const slots: FretSlot[] = [];
  let before = nutLine;
  for (let fret = 1; fret <= spec.frets; fret++) {
    const line = crossing(fractions[fret]);
    if (line === null) return failed("frets-cross", `fret ${fret} does not cross both edges of the board`);
    if (line.bass[0] <= before.bass[0] || line.treble[0] <= before.treble[0]) {
      return failed("frets-cross", `frets ${fret - 1} and ${fret} meet on the board`);
    }
    const length = Math.hypot(line.bass[0] - line.treble[0], line.bass[1] - line.treble[1]);
    slots.push({ fret, bass: line.bass, treble: line.treble, angle: line.angle, length });
    before = line;
  }
  const reach = Math.max(before.bass[0], before.treble[0]);
  const end = Math.max(spec.endStation ?? 0, reach + boardOverrun);
  const farHalf = spec.nutWidth / 2 + widening * end;
  return done({
    strings,
    slots,
    nutLine,
    saddleLine: { bass: saddleBass, treble: saddleTreble, angle: lineAngle(saddleBass, saddleTreble) },
    bassEdge: [nutLine.bass, [end, farHalf]],
    trebleEdge: [nutLine.treble, [end, -farHalf]],
  });
}

/** Where the line of a fret (any real number) crosses the centreline, m from the nut line, in the board frame. */
export function fretPlaceOnCentreline(layout: BoardLayout, spec: BoardSpec, fret: number): Outcome<number> {
  const fraction = fretFraction(spec.temperament, fret);
  if (!fraction.ok) return fraction;
  const treble = layout.strings[0];
  const bass = layout.strings[layout.strings.length - 1];
  const a = between(treble.nut, treble.saddle, fraction.value);
  const b = between(bass.nut, bass.saddle, fraction.value);
  // The outer strings lie at equal distances either side of the centreline.
  return done((a[0] + b[0]) / 2);
}

/** What is wrong with the figures of a board before anything is laid out; null if nothing. */
function boardFault(spec: BoardSpec): string | null {
  const positive: readonly (keyof BoardSpec)[] = [
    "bassScale",
    "trebleScale",
    "nutWidth",
    "endWidth",
    "stringSpreadNut",
    "stringSpreadSaddle",
  ];
  for (const key of positive) {
    if (!((spec[key] as number) > 0) || !Number.isFinite(spec[key]))
      return `${key} is ${spec[key]}, must be above 0 m`;
  }
  if (!Number.isInteger(spec.strings) || spec.strings < 1) return `${spec.strings} strings`;
  if (!Number.isInteger(spec.frets) || spec.frets < 0) return `${spec.frets} frets`;
  if (!Number.isFinite(spec.squareFret)) return `square fret is ${spec.squareFret}`;
  if (spec.stringSpreadNut > spec.nutWidth) {
    return `strings spread ${spec.stringSpreadNut} m at a nut ${spec.nutWidth} m wide`;
  }
  const slant = Math.abs(spec.stringSpreadSaddle - spec.stringSpreadNut) / 2;
  if (slant >= Math.min(spec.bassScale, spec.trebleScale))
    return "the string spread is larger than the scale";
  return null;
}
