import type { Build } from "#engine/instrument";
import { type NoteBoard, noteBoard } from "#engine/notes";
import { type Context, done, failed, type Outcome } from "#engine/numerics";
import { type BodyResponse, crownView, solveCoupling } from "#engine/response";
import { frequencySigma, honestAccuracy, type Knowledge } from "#engine/verdicts";
import { liveEdit } from "../live/liveEdit.ts";
import type { LiveModel } from "../live/liveModel.ts";
import { draws } from "./draws.ts";
import { rotationSlopes } from "./rotationSlopes.ts";
import { sensitivities } from "./sensitivities.ts";
import { type SmallBody, smallBody } from "./smallBody.ts";

export type FigureKind =
  | "frequencyHz"
  | "q"
  | "levelDb"
  | "decayS"
  | "wolfIndex"
  | "levelSpreadDb"
  | "bridgeRotation";

/** One figure of a voice under the samples. */
export interface SampledFigure {
  readonly kind: FigureKind;
  /** What it belongs to, the same in two designs: "main top", "mode 7", "string 2, fret 3", "board", "bridge". */
  readonly of: string;
  readonly value: number;
  /** One sigma of the model itself against a real guitar (docs/limits.md, engineering judgement), in the figure's unit. */
  readonly modelSigma: number;
  /** By sample; NaN where a sample has no such figure. */
  readonly samples: Float64Array;
}

export interface VoiceSamples {
  readonly seed: number;
  readonly modeSamples: number;
  readonly boardSamples: number;
  readonly figures: readonly SampledFigure[];
  /** Values followed, and by value and mode (of the first `modes`) the relative change of frequency per relative change. */
  readonly followed: SmallBody["slopes"][number]["value"][];
  readonly sensitivity: Float64Array;
  readonly modes: number;
  readonly modeFrequency: Float64Array;
  readonly left: readonly string[];
}

export interface SampleOptions {
  readonly seed: number;
  /** Even numbers: samples come in pairs. */
  readonly modeSamples: number;
  readonly boardSamples: number;
  /** Modes up to here are varied; those beyond stay out of samples and of what they are held against. */
  readonly toHz: number;
}

export const defaultSamples: SampleOptions = { seed: 1, modeSamples: 64, boardSamples: 24, toHz: 700 };

/**
 * The voice under seeded samples of its uncertain values: modes and Q under all, the note board under the first of them.
 * Every value acts through its slope in the coupled equations; frequencies, shapes and notes follow without further
 * linearising. Fails as the coupling and the note board do, and with 'cancelled'.
 */
export function voiceSamples(
  model: LiveModel,
  uncertain: Build["uncertain"],
  knowledge: Knowledge,
  ctx: Context,
  options: SampleOptions = defaultSamples,
): Outcome<VoiceSamples> {
  const { seed, modeSamples, boardSamples, toHz } = options;
  const whole = liveEdit(model, [], ctx);
  if (!whole.ok) return whole;
  const made = smallBody(model, uncertain, toHz * 1.15, ctx);
  if (!made.ok) return made;
  const body = made.value;
  const z = body.slopes.map(({ value }) => draws(value.path, seed, Math.max(modeSamples, boardSamples)));
  const nominal = solveCoupling(body.parts, body.coupling, ctx);
  if (!nominal.ok) return nominal;
  const responses: BodyResponse[] = [];
  for (let s = 0; s < modeSamples; s++) {
    if (ctx.cancelled()) return failed("cancelled", "while ranges were sampled");
    ctx.progress((0.6 * s) / modeSamples);
    const sampled = solveCoupling(body.parts, sampledCoupling(body, z, s), ctx);
    if (!sampled.ok) return sampled;
    responses.push(sampled.value);
  }
  const boardOf = (r: BodyResponse): Outcome<NoteBoard> =>
    noteBoard(
      {
        strings: model.board.strings,
        bodies: model.board.strings.map((_, crown) => crownView(r, crown)),
        frets: model.board.frets,
        validToHz: Math.min(r.validToHz, toHz),
        decayValidToHz: Math.min(r.modesToHz, toHz),
        a4: model.board.a4,
        quick: true,
        ready: model.board.ready,
      },
      { ...ctx, progress: () => {} },
    );
  const nominalBoard = boardOf(nominal.value);
  if (!nominalBoard.ok) return nominalBoard;
  const boards: NoteBoard[] = [];
  for (let s = 0; s < boardSamples; s++) {
    if (ctx.cancelled()) return failed("cancelled", "while ranges were sampled");
    ctx.progress(0.6 + (0.4 * s) / boardSamples);
    const board = boardOf(responses[s]!);
    if (!board.ok) return board;
    boards.push(board.value);
  }
  const sensitivity = sensitivities(body);
  const modes = body.size - body.still;
  const rotation = sampledRotation(model, body, z, modeSamples);
  if (!rotation.ok) return rotation;
  return done({
    seed,
    modeSamples,
    boardSamples,
    figures: [
      ...modeFigures(whole.value.response, nominal.value, responses, {
        sensitivity,
        modes,
        body,
        z,
        knowledge,
        toHz,
      }),
      ...noteFigures(whole.value.board, nominalBoard.value, boards, whole.value.response, knowledge),
      {
        kind: "bridgeRotation",
        of: "bridge",
        value: whole.value.load.bridgeRotation,
        modelSigma: honestAccuracy(knowledge).bridgeRotation * Math.abs(whole.value.load.bridgeRotation),
        samples: rotation.value,
      },
    ],
    followed: body.slopes.map(({ value }) => value),
    sensitivity,
    modes,
    modeFrequency: nominal.value.frequency.slice(0, modes),
    left: body.left,
  });
}

/** Relative change of a value in one sample; what cannot be negative stays above a tenth. */
function relative({ value, spread }: { readonly value: number; readonly spread: number }, z: number): number {
  return value === 0 ? 0 : Math.max(-0.9, (spread / Math.abs(value)) * z);
}

function sampledCoupling(body: SmallBody, z: readonly Float64Array[], s: number): SmallBody["coupling"] {
  const { system } = body.coupling;
  const [stiffness, mass, wood] = [system.stiffness.slice(), system.mass.slice(), system.wood.slice()];
  const add = (to: Float64Array, from: Float64Array | null, f: number): void => {
    if (from !== null) for (let k = 0; k < to.length; k++) to[k]! += f * from[k]!;
  };
  body.slopes.forEach((slope, p) => {
    const f = relative(slope.value, z[p]![s]!);
    add(stiffness, slope.stiffness, f);
    add(mass, slope.mass, f);
    add(wood, slope.loss, f);
  });
  return { ...body.coupling, system: { ...system, stiffness, mass, wood } };
}

/** Bridge rotation by sample, first order in every value; NaN-free: what does not act on it adds nothing. */
function sampledRotation(
  model: LiveModel,
  body: SmallBody,
  z: readonly Float64Array[],
  count: number,
): Outcome<Float64Array> {
  const slopes = rotationSlopes(
    model,
    body.slopes.map(({ value }) => value.path),
  );
  if (!slopes.ok) return slopes;
  const perChange = slopes.value;
  const nominal = model.load.bridgeRotation;
  return done(
    Float64Array.from({ length: count }, (_, s) =>
      body.slopes.reduce((sum, { value }, p) => sum + perChange[p]! * relative(value, z[p]![s]!), nominal),
    ),
  );
}

interface ModeContext {
  readonly sensitivity: Float64Array;
  readonly modes: number;
  readonly body: SmallBody;
  readonly z: readonly Float64Array[];
  readonly knowledge: Knowledge;
  readonly toHz: number;
}

/**
 * Frequency and Q of each mode. Modes may change places in a sample: the k-th of those foretold by the sensitivities is the
 * k-th that came out.
 */
function modeFigures(
  whole: BodyResponse,
  nominal: BodyResponse,
  responses: readonly BodyResponse[],
  c: ModeContext,
): SampledFigure[] {
  const count = c.modes;
  const place = responses.map((_, s) => {
    const foretold = Float64Array.from({ length: count }, (_, i) => {
      let change = 0;
      c.body.slopes.forEach(({ value }, p) => {
        change += c.sensitivity[p * count + i]! * relative(value, c.z[p]![s]!);
      });
      return nominal.frequency[i]! * (1 + change);
    });
    const order = Array.from(foretold.keys()).sort((a, b) => foretold[a]! - foretold[b]!);
    const rank = new Uint32Array(count);
    order.forEach((mode, k) => {
      rank[mode] = k;
    });
    return rank;
  });
  const figures: SampledFigure[] = [];
  const accuracy = honestAccuracy(c.knowledge);
  for (let i = 0; i < count && whole.frequency[i]! <= c.toHz; i++) {
    const name = whole.name[i] ?? null;
    const of = name ?? `mode ${i + 1}`;
    const ratio = (pick: (r: BodyResponse) => Float64Array): Float64Array =>
      Float64Array.from(responses, (r, s) => (pick(whole)[i]! * pick(r)[place[s]![i]!]!) / pick(nominal)[i]!);
    figures.push({
      kind: "frequencyHz",
      of,
      value: whole.frequency[i]!,
      modelSigma: frequencySigma(name, c.knowledge) * whole.frequency[i]!,
      samples: ratio((r) => r.frequency),
    });
    figures.push({
      kind: "q",
      of,
      value: whole.q[i]!,
      modelSigma: Math.log(accuracy.qFactor) * whole.q[i]!,
      samples: ratio((r) => r.q),
    });
  }
  return figures;
}

function noteFigures(
  whole: NoteBoard,
  nominal: NoteBoard,
  boards: readonly NoteBoard[],
  response: BodyResponse,
  knowledge: Knowledge,
): SampledFigure[] {
  const accuracy = honestAccuracy(knowledge);
  const figures: SampledFigure[] = [];
  whole.noteBoard.forEach((row, k) => {
    const base = nominal.noteBoard[k]!;
    const of = `string ${row.string}, fret ${row.fret}`;
    const near = response.frequency.some((f) => Math.abs(f / row.frequencyHz - 1) < 0.05);
    const put = (
      kind: "levelDb" | "decayS" | "wolfIndex",
      modelSigma: number,
      moved: (value: number, was: number, is: number) => number,
    ): void => {
      const [value, was] = [row[kind], base[kind]];
      if (value === null || was === null) return;
      const samples = Float64Array.from(boards, (b) => {
        const is = b.noteBoard[k]![kind];
        return is === null ? Number.NaN : moved(value, was, is);
      });
      figures.push({ kind, of, value, modelSigma, samples });
    };
    put(
      "levelDb",
      near ? accuracy.noteLevelNearModeDb : accuracy.noteLevelDb,
      (value, was, is) => value + is - was,
    );
    put("decayS", Math.log(accuracy.decayFactor) * (row.decayS ?? 0), (value, was, is) => (value * is) / was);
    // at coincidence the index goes with the body's Q
    put(
      "wolfIndex",
      Math.log(accuracy.qFactor) * (row.wolfIndex ?? 0),
      (value, was, is) => (value * is) / was,
    );
  });
  const [value, was] = [whole.evenness.levelSpreadDb, nominal.evenness.levelSpreadDb];
  if (value !== null && was !== null) {
    figures.push({
      kind: "levelSpreadDb",
      of: "board",
      value,
      modelSigma: accuracy.boardAverageDb,
      samples: Float64Array.from(boards, (b) => value + (b.evenness.levelSpreadDb ?? Number.NaN) - was),
    });
  }
  return figures;
}
