import {
  analysePattern,
  type Context,
  done,
  joinSlices,
  modesBelow,
  modesBetween,
  type Outcome,
} from "#engine/numerics";
import type { BodyModes, BodySystem, PointRows } from "./bodyModel.ts";
import { describedModes, type PointFlexibility, residualShift } from "./bodyModes.ts";

/** One of two shares of a body's modes, for one worker. Plain data. */
export interface SliceTask extends Pick<BodySystem, "n" | "stiffness" | "mass"> {
  readonly analysis: ReturnType<typeof analysePattern>;
  readonly share: "low" | "high";
  /** The modes wanted are those below, Hz. */
  readonly toFrequency: number;
  /** Whose flexibility the low share tells. */
  readonly rows: PointRows;
}

export interface SlicePart {
  readonly pairs: Parameters<typeof joinSlices>[0][number];
  /** Of the low share only. */
  readonly flexibility: PointFlexibility | null;
}

/** Both shares take about as long: the high one also counts at its top, which is a factor more. */
const cut = 0.66;
/** Modes expected by Hz in each share: where there are more they are found too, only later. */
const expectedPerHz = { low: 0.046, high: 0.068 };
/** Residual of the inverse problem. Values are as good as its square (Rayleigh's quotient), vectors as it is. */
const tolerance = 1e-6;

/** Elimination order and block structure of a body's matrices: once for all its factors. */
export function bodyAnalysis(system: BodySystem): SliceTask["analysis"] {
  return analysePattern(system.stiffness, system.group);
}

/** The modes of one share (see `joinedModes`). Fails as the eigensolver does. */
export function modeSlice(task: SliceTask, ctx: Context): Outcome<SlicePart> {
  const { stiffness, mass, analysis, share, toFrequency, rows } = task;
  const middle = cut * toFrequency;
  const width = share === "low" ? middle : toFrequency - middle;
  const expected = Math.ceil(expectedPerHz[share] * width);
  const [from, to] = [(2 * Math.PI * middle) ** 2, (2 * Math.PI * toFrequency) ** 2];
  if (share === "high") {
    const slice = modesBetween(
      stiffness,
      mass,
      { from, to, countFrom: false, expected, analysis, tolerance },
      ctx,
    );
    return slice.ok ? done({ pairs: slice.value, flexibility: null }, slice.warnings) : slice;
  }
  const shift = residualShift(toFrequency);
  const slice = modesBelow(
    stiffness,
    mass,
    { to: from, countTo: false, shift, expected, analysis, tolerance },
    ctx,
  );
  if (!slice.ok) return slice;
  const { solve: _, between, solveShift, ...pairs } = slice.value;
  return done({ pairs, flexibility: { shift: solveShift, flexibility: between(rows) } }, slice.warnings);
}

/** `bodyModes` from its two shares. Fails as it does, and with 'modes-missed' where the shares' counts disagree. */
export function joinedModes(
  system: BodySystem,
  rows: PointRows,
  low: SlicePart,
  high: SlicePart,
  ctx: Context,
): Outcome<BodyModes> {
  const pairs = joinSlices([low.pairs, high.pairs]);
  if (!pairs.ok) return pairs;
  return describedModes(system, rows, pairs.value, low.flexibility, ctx.kernels);
}
