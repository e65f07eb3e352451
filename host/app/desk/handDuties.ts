import type { NoteTones } from "#engine/notes";
import { type Context, done, failed, type Outcome } from "#engine/numerics";
import {
  holdBrace,
  type LiveChange,
  type LiveInput,
  type LiveResult,
  liveEdit,
  liveParameters,
  liveShapes,
  prepareRefreshable,
  type RefreshableLive,
  type RenderedPiece,
  type SettledEdit,
  type SoundingBody,
  settleEdit,
  warmLive,
} from "#engine/pipeline";
import { wasmKernels } from "#kernels";
import type { Lever, LivePicture, LiveShapes, NoteAsked, PieceAsked } from "./deskTypes.ts";
import { leverOf, leverSteps } from "./levers.ts";
import { renderedOf, tonesFrom } from "./soundDuties.ts";
import type { Watch } from "./wire.ts";

export type HandDuties = ReturnType<typeof handDuties>;

/** What live edits of one voice can move. */
export interface HandReady {
  readonly movable: readonly string[];
}

/** What holds the reduced model of one voice and answers the hand. */
export function handDuties() {
  let whole: { readonly input: LiveInput; readonly live: RefreshableLive } | null = null;
  let held: { readonly brace: string; readonly live: RefreshableLive } | null = null;
  let last: LiveResult | null = null;

  const context = (watch?: Watch, words = ""): Context => ({
    kernels: wasmKernels,
    progress: (fraction) => watch?.tell(fraction, words),
    cancelled: () => watch?.cancelled() ?? false,
  });
  /** The model that can follow the change: a moved brace needs one of its own. */
  const modelFor = (change: LiveChange, ctx: Context): Outcome<RefreshableLive> => {
    if (whole === null) return failed("no-model", "the hand's model is not made");
    const move = change.find((one) => "brace" in one);
    if (move === undefined || !("brace" in move)) return done(whole.live);
    if (held?.brace !== move.brace) {
      const made = holdBrace(whole.live, move.brace, ctx);
      if (!made.ok) return made;
      held = { brace: move.brace, live: made.value };
    }
    return done(held.live);
  };
  const sounding = (): SoundingBody | null => {
    if (whole === null || last === null) return null;
    const { build, geometry, strings } = whole.input;
    return { build, geometry, strings, response: last.response };
  };

  return {
    /** Waits for what the voice's worker sends and makes the model: of `only` these parameters, or of all. */
    prepare: async (
      { port, only }: { readonly port: MessagePort; readonly only: readonly string[] | null },
      watch: Watch,
    ): Promise<Outcome<HandReady>> => {
      const input = await new Promise<LiveInput>((settle) => {
        port.onmessage = ({ data }) => settle(data as LiveInput);
      });
      port.close();
      const known = liveParameters(input.build);
      const parameters = only === null ? known : known.filter(({ id }) => only.includes(id));
      const ctx = context(watch, "what the hand moves");
      const live = prepareRefreshable(input, { ...ctx, progress: (f) => ctx.progress(0.95 * f) }, parameters);
      if (!live.ok) return live;
      // a small one is waited for by a hand, whose own first moves will warm it
      if (only === null) warmLive(live.value.model, ctx);
      whole = { input, live: live.value };
      const braces = [...input.build.top.braces, ...input.build.back.braces].map((b) => b.documentPath);
      const once = [...new Set(braces)].filter((path) => braces.indexOf(path) === braces.lastIndexOf(path));
      return done({ movable: [...live.value.model.limits.map(({ id }) => id), ...once] });
    },
    edit: (change: LiveChange): Outcome<LivePicture> => {
      const ctx = context();
      const model = modelFor(change, ctx);
      if (!model.ok) return model;
      const result = liveEdit(model.value.model, change, ctx);
      if (!result.ok) return result;
      last = result.value;
      return done(livePicture(change, result.value, null));
    },
    /** The motion of the lowest modes after a change. */
    shapes: (change: LiveChange): Outcome<LiveShapes> => {
      const ctx = context();
      const model = modelFor(change, ctx);
      if (!model.ok) return model;
      const found = liveShapes(model.value.model, change, ctx);
      if (!found.ok) return found;
      const { count, top, back } = found.value;
      return done({ count, top: Float32Array.from(top), back: Float32Array.from(back) });
    },
    settle: (change: LiveChange): Outcome<LivePicture> => {
      const ctx = context();
      const model = modelFor(change, ctx);
      if (!model.ok) return model;
      const { model: reduced, refresh } = model.value;
      const result = settleEdit(reduced, refresh, change, ctx);
      if (!result.ok) return result;
      last = result.value;
      return done(livePicture(change, result.value, result.value));
    },
    /** One step after the other, so that the hand is answered in between. */
    levers: async (_: null, watch: Watch): Promise<readonly Lever[]> => {
      if (whole === null) return [];
      const { input, live } = whole;
      const still = liveEdit(live.model, [], context());
      if (!still.ok) return [];
      const limits = new Set(live.model.limits.map(({ id }) => id));
      const steps = leverSteps(input.build, input.geometry).filter(({ path }) => limits.has(path));
      const found: Lever[] = [];
      for (const [i, step] of steps.entries()) {
        await nextTurn();
        if (watch.cancelled()) break;
        const moved = liveEdit(live.model, [{ parameter: step.path, factor: step.factor }], context());
        if (moved.ok) found.push(leverOf(step, still.value, moved.value));
        watch.tell((i + 1) / steps.length, step.words);
      }
      return found.sort((a, b) => strongest(b) - strongest(a));
    },
    tones: (asked: NoteAsked): NoteTones | null => tonesFrom(sounding(), asked),
    sound: (asked: NoteAsked | PieceAsked): RenderedPiece | null => renderedOf(sounding(), asked),
  };
}

const strongest = ({ effects }: Lever): number => Math.max(0, ...effects.map(({ strength }) => strength));

const nextTurn = (): Promise<void> => new Promise((settle) => setTimeout(settle, 0));

/** Modes among which the largest error is told. */
const watchedModes = 30;

function livePicture(change: LiveChange, result: LiveResult, settled: SettledEdit | null): LivePicture {
  const { response, board, load, errorEstimate, needsFullSolve } = result;
  const among = settled?.exactModes ?? watchedModes;
  return {
    change,
    modes: Array.from({ length: response.count }, (_, i) => ({
      frequencyHz: response.frequency[i]!,
      q: response.q[i]!,
      name: response.name[i] ?? null,
    })),
    // what rings in every note is not for the speed of the hand
    board: { ...board, noteBoard: board.noteBoard.map((row) => ({ ...row, partials: [] })) },
    load: { bridgeRotation: load.bridgeRotation, saddleRise: load.saddleRise },
    shapes: null,
    exactness: settled === null ? "live" : "settled",
    error: Math.max(0, ...errorEstimate.subarray(0, among)),
    needsFullSolve,
  };
}
