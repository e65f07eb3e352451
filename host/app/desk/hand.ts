import type { NoteTones } from "#engine/notes";
import type { LiveChange, RenderedPiece } from "#engine/pipeline";
import { carriedChange, followable, valuesOf } from "./carriedChange.ts";
import type { Lever, NoteAsked, PieceAsked } from "./deskTypes.ts";
import { type HandNeeds, type Holder, handModels } from "./handModels.ts";
import { latestOnly } from "./latestOnly.ts";
import { settled, settledOutcome } from "./settled.ts";

export interface Hand {
  /** From now on the model of everything is made after each computed voice: where nobody works by hand it would be for nothing. */
  want(): void;
  /** `computed`: in this page and just now, so that what live edits start from is at hand. */
  voiceReady(text: string, computed: boolean): void;
  textChanged(text: string): void;
  hold(path: string): void;
  drag(change: LiveChange): void;
  release(): void;
  watchShapes(): () => void;
  letBe(): void;
  levers(told?: (fraction: number) => void): Promise<readonly Lever[]>;
  tones(asked: NoteAsked): Promise<NoteTones | null>;
  sound(asked: NoteAsked | PieceAsked): Promise<RenderedPiece | null>;
  cancel(): void;
  dismiss(): void;
}

interface Move {
  /** The document in hand when it was made. */
  readonly text: string | null;
  readonly change: LiveChange;
  readonly settle: boolean;
}

interface LeverRun {
  readonly found: Promise<readonly Lever[]>;
  readonly listeners: ((fraction: number) => void)[];
}

/**
 * Live edits. The model of a whole voice is made in the background after it, once somebody works by hand; what the hand takes hold of before that gets a small
 * model of its own at once, which is ready sooner. A model goes on serving after an edit was accepted, with that edit in
 * it, until the next one is ready.
 */
export function makeHand(needs: HandNeeds): Hand {
  const { store } = needs;
  let wanted = false;
  /** How many look at the motion of the modes: it costs half an answer, so nobody gets it unasked. */
  let watching = 0;
  /** Whose voice was computed last, in this page. */
  let computedText: string | null = null;
  let holding = false;
  /** What the hand moved last, while `live` shows it. */
  let shown: LiveChange | null = null;
  /** Moved when there was no model for it yet. */
  let pending: Move | null = null;
  /** Who is asked now, and who answered last: what is shown sounds there. */
  let answering: Holder | null = null;
  let answered: Holder | null = null;

  const models = handModels(
    needs,
    () => answering,
    () => {
      const move = pending;
      pending = null;
      if (move !== null) editor.give(move);
    },
  );
  const baseOf = ({ bases }: Holder, text: string | null) =>
    (text === null ? null : bases.get(text)) ?? { change: [], doubts: [] };
  const carriedBy = (holder: Holder, { text, change }: Move): LiveChange =>
    carriedChange(baseOf(holder, text).change, change);
  const holderFor = (move: Move): Holder | null => {
    const fit = models.able(move.text).filter((one) => followable(one.movable ?? [], carriedBy(one, move)));
    return fit.find(({ text }) => text === move.text) ?? fit[0] ?? null;
  };
  /** A small model for what the hand has taken hold of, unless one is ready or on its way. */
  const readyFor = (paths: readonly string[]): void => {
    const { text, voice } = store.get();
    if (text !== null && voice.fresh) void models.prepare(text, paths);
  };

  const editor = latestOnly<Move>(async (move, superseded) => {
    const holder = holderFor(move);
    if (holder === null) {
      if (move.text !== store.get().text) return;
      pending = move;
      readyFor(valuesOf(move.change));
      return;
    }
    answering = holder;
    const kind = move.settle ? "settle" : "edit";
    const outcome = await settledOutcome(holder.line.ask(kind, carriedBy(holder, move)).answer);
    if (outcome.ok) answered = holder;
    const { live } = store.get();
    if (shown !== null && outcome.ok) {
      const needsFullSolve = [...outcome.value.needsFullSolve, ...baseOf(holder, move.text).doubts];
      // shapes of a moment ago are better than none while the hand goes on
      const shapes = live?.shapes ?? null;
      store.set({ live: { ...outcome.value, shapes, change: move.change, needsFullSolve } });
    } else if (shown !== null && !outcome.ok && live !== null && models.has(holder))
      store.set({ live: { ...live, needsFullSolve: [outcome.detail] } });
    if (outcome.ok && watching > 0 && !superseded()) await addShapes(holder, move);
    answering = null;
    models.sweep();
  });
  /** The motion of the modes that `live` shows, after its figures: the hand need not wait for it. */
  const addShapes = async (holder: Holder, move: Move): Promise<void> => {
    const shapes = await settledOutcome(holder.line.ask("shapes", carriedBy(holder, move)).answer);
    const { live } = store.get();
    if (shapes.ok && live?.change === move.change) store.set({ live: { ...live, shapes: shapes.value } });
  };
  const give = (change: LiveChange, settle: boolean): void =>
    editor.give({ text: store.get().text, change, settle });
  const nothingShown = (): void => {
    shown = null;
    pending = null;
    editor.drop();
    store.set({ live: null });
  };
  const sounder = (): Holder | null =>
    shown === null || answered === null || !models.has(answered) ? null : answered;

  /** Tried once for a model, whoever asks. */
  const leverRuns = new WeakMap<Holder, LeverRun>();
  const leversOf = (holder: Holder, told: (fraction: number) => void): Promise<readonly Lever[]> => {
    const known = leverRuns.get(holder);
    if (known !== undefined) {
      known.listeners.push(told);
      return known.found;
    }
    const listeners = [told];
    const tellAll = (fraction: number): void => {
      for (const tell of listeners) tell(fraction);
    };
    const asked = settled(holder.line.ask("levers", null, { told: tellAll }).answer);
    const found = asked.then((answer) => (answer.ok ? answer.value : []));
    leverRuns.set(holder, { found, listeners });
    return found;
  };

  return {
    voiceReady: (text, computed) => {
      if (!holding) nothingShown();
      if (!computed) return;
      computedText = text;
      if (wanted) models.everything(text);
    },
    want: () => {
      if (wanted) return;
      wanted = true;
      const { text, voice } = store.get();
      if (text !== null && text === computedText && voice.fresh) models.everything(text);
    },
    textChanged: models.textChanged,
    hold: (path) => {
      const values = /\.braces\[\d+\]$/.test(path) ? [`${path}.height`, `${path}.width`] : [path];
      const change = values.map((parameter) => ({ parameter, factor: 1 }));
      if (holderFor({ text: store.get().text, change, settle: false }) === null) readyFor(values);
    },
    drag: (change) => {
      holding = true;
      shown = change;
      give(change, false);
    },
    release: () => {
      holding = false;
      if (shown !== null) give(shown, true);
    },
    watchShapes: () => {
      watching++;
      if (shown !== null && store.get().live?.shapes === null) give(shown, !holding);
      return () => {
        watching--;
      };
    },
    letBe: () => {
      holding = false;
      nothingShown();
    },
    levers: async (told = () => {}) => {
      const { text, voice } = store.get();
      if (text === null || !voice.fresh) return [];
      if (models.own(text) === null) await models.prepare(text, null);
      const holder = models.own(text);
      return holder === null ? [] : leversOf(holder, told);
    },
    tones: async (asked) => (await sounder()?.line.ask("tones", asked).answer) ?? null,
    sound: async (asked) => (await sounder()?.line.ask("sound", asked).answer) ?? null,
    cancel: models.cancel,
    dismiss: () => {
      holding = false;
      nothingShown();
      models.dismiss();
    },
  };
}
