import {
  analysePattern,
  type Context,
  done,
  joinSlices,
  modesBelow,
  modesBetween,
  type Outcome,
  typescriptKernels,
} from "#engine/numerics";
import type { BodyLayout, BodyModes, BodySystem, PointRows } from "./bodyModel.ts";
import {
  type PointFlexibility,
  residualShift,
  rigidFault,
  rigidOf,
  rigidVectors,
  toldModes,
} from "./bodyModes.ts";
import { joinedLoss, type ModalLoss, modalLoss } from "./modalLoss.ts";
import { joinedReadings, type ModeReading, modeReading, type ReadModes, readModes } from "./readModes.ts";

/** What both shares of a body's modes need of it. Plain data. */
export interface ModesTask
  extends Pick<BodySystem, "n" | "stiffness" | "mass" | "lossStiffness" | "rigidMass"> {
  readonly analysis: ReturnType<typeof analysePattern>;
  readonly layout: Pick<BodyLayout, "rowMotion" | "places">;
  readonly rigidCount: number;
  readonly reading: ModeReading;
}

/** One of two shares of a body's modes, for one worker. */
export interface SliceTask extends ModesTask {
  readonly share: "low" | "high";
  /** The modes wanted are those below, Hz. */
  readonly toFrequency: number;
}

export interface SlicePart {
  /** Without the vectors in the high share. */
  readonly pairs: Parameters<typeof joinSlices>[0][number];
  /** What the modes do, exact rigid motions in place of the pairs that stand for them. */
  readonly read: ReadModes;
  /** Energies of the elastic modes in the imaginary part of the stiffness. */
  readonly loss: ModalLoss;
  /** Between the points; of the low share only. */
  readonly flexibility: PointFlexibility | null;
}

/** Both shares take about as long: the high one also counts at its top, which is a factor more. */
const cut = 0.66;
/** Modes expected by Hz in each share: where there are more they are found too, only later. */
const expectedPerHz = { low: 0.046, high: 0.068 };
/** Residual of the inverse problem. Values are as good as its square (Rayleigh's quotient), vectors as it is. */
const tolerance = 1e-6;

/** Elimination order and block structure of a body's matrices: once for all its factors. */
export function bodyAnalysis(system: BodySystem): ModesTask["analysis"] {
  return analysePattern(system.stiffness, system.group);
}

/** rows: of the points whose motions are wanted. */
export function modesTask(system: BodySystem, analysis: ModesTask["analysis"], rows: PointRows): ModesTask {
  const { n, stiffness, mass, lossStiffness, rigidMass, layout } = system;
  const { rowMotion, places } = layout;
  return {
    n,
    stiffness,
    mass,
    lossStiffness,
    rigidMass,
    analysis,
    layout: { rowMotion, places },
    rigidCount: rigidOf(system),
    reading: modeReading(system, rows),
  };
}

/** The modes of one share (see `joinedModes`). Fails as the eigensolver does. */
export function modeSlice(task: SliceTask, ctx: Context): Outcome<SlicePart> {
  const { stiffness, mass, analysis, share, toFrequency, reading } = task;
  const middle = cut * toFrequency;
  const width = share === "low" ? middle : toFrequency - middle;
  const expected = Math.ceil(expectedPerHz[share] * width);
  const [from, to] = [(2 * Math.PI * middle) ** 2, (2 * Math.PI * toFrequency) ** 2];
  if (share === "high") {
    const o = { from, to, countFrom: false, expected, analysis, tolerance };
    const slice = modesBetween(stiffness, mass, o, ctx);
    return slice.ok ? done(described(task, slice.value, null, ctx), slice.warnings) : slice;
  }
  const shift = residualShift(toFrequency);
  const o = { to: from, countTo: false, shift, expected, analysis, tolerance };
  const slice = modesBelow(stiffness, mass, o, ctx);
  if (!slice.ok) return slice;
  const { solve: _, between, solveShift, ...pairs } = slice.value;
  const still = { shift: solveShift, flexibility: between(reading.points) };
  return done(described(task, pairs, still, ctx), slice.warnings);
}

function described(
  task: SliceTask,
  pairs: SlicePart["pairs"],
  flexibility: PointFlexibility | null,
  { kernels = typescriptKernels }: Context,
): SlicePart {
  const { n, reading, lossStiffness, share } = task;
  const count = pairs.values.length;
  const rigid = share === "low" ? Math.min(task.rigidCount, count) : 0;
  const vectors = pairs.vectors.slice();
  if (rigid > 0) vectors.set(rigidVectors(task).subarray(0, rigid * n));
  // of the high share the forces are all that is asked for later
  const kept = share === "low" ? pairs : { ...pairs, vectors: new Float64Array(0) };
  return {
    pairs: kept,
    read: readModes(reading, vectors, count),
    loss: modalLoss(lossStiffness, vectors.subarray(rigid * n), count - rigid, kernels),
    flexibility,
  };
}

/** `bodyModes` from its two shares. Fails as it does, and with 'modes-missed' where the shares' counts disagree. */
export function joinedModes(system: BodySystem, low: SlicePart, high: SlicePart): Outcome<BodyModes> {
  const pairs = joinSlices([low.pairs, high.pairs]);
  if (!pairs.ok) return pairs;
  const fault = rigidFault(system, pairs.value);
  if (fault !== null) return fault;
  const { n } = system;
  const elastic = low.pairs.vectors.subarray(rigidOf(system) * n);
  const loss = joinedLoss(elastic, low.loss.own, high.loss, n);
  return done(
    toldModes(system, pairs.value.values, joinedReadings(low.read, high.read), loss, low.flexibility),
  );
}
