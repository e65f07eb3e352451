import type { NoteTones } from "#engine/notes";
import type { LiveChange, RenderedPiece } from "#engine/pipeline";
import { carriedChange, followable, valuesOf } from "./carriedChange.ts";
import type { Between } from "./changeBetween.ts";
import type { DeskStore, Lever, NoteAsked, PieceAsked } from "./deskTypes.ts";
import type { HandDuties } from "./handDuties.ts";
import { latestOnly } from "./latestOnly.ts";
import type { Line } from "./line.ts";
import { type Settled, settled, settledOutcome } from "./settled.ts";
import { ended, noStage, ready, stale, waiting, working } from "./stage.ts";

/** What the hand needs of the desk. */
export interface HandNeeds {
  hire(): Line<HandDuties>;
  readonly store: DeskStore;
  /** Has what live edits start from sent through the port. */
  basis(
    text: string,
    port: MessagePort,
    told: (fraction: number, words: string) => void,
  ): Promise<Settled<true>>;
  callOffBasis(): void;
  /** What turns one text's instrument into another's, if live values are all that differs; null: more does. */
  between(from: string, to: string): Promise<Between | null>;
}

export interface Hand {
  /** `computed`: in this page and just now, so that what live edits start from is at hand. */
  voiceReady(text: string, computed: boolean): void;
  textChanged(text: string): void;
  hold(path: string): void;
  drag(change: LiveChange): void;
  release(): void;
  letBe(): void;
  levers(told?: (fraction: number) => void): Promise<readonly Lever[]>;
  tones(asked: NoteAsked): Promise<NoteTones | null>;
  sound(asked: NoteAsked | PieceAsked): Promise<RenderedPiece | null>;
  cancel(): void;
  dismiss(): void;
}

/** A worker that holds the model of one voice, or is making it. */
interface Holder {
  readonly line: Line<HandDuties>;
  readonly text: string;
  /** null: it moves everything. */
  readonly only: readonly string[] | null;
  /** null: not ready. */
  movable: readonly string[] | null;
  /** From its own text to others that were in hand since; null: it cannot follow that one. */
  readonly bases: Map<string, Between | null>;
  /** Ends when it is ready, or will not be. */
  readonly made: Promise<void>;
}

interface LeverRun {
  readonly found: Promise<readonly Lever[]>;
  readonly listeners: ((fraction: number) => void)[];
}

const still: Between = { change: [], doubts: [] };

interface Move {
  /** The document in hand when it was made. */
  readonly text: string | null;
  readonly change: LiveChange;
  readonly settle: boolean;
}

/**
 * Live edits. The model of a whole voice is made in the background after it; what the hand takes hold of before that gets a small model of its own at once,
 * which is ready sooner. A model goes on serving after an edit was accepted, with that edit in it, until the next one is ready.
 */
export function makeHand({ hire, store, basis, callOffBasis, between }: HandNeeds): Hand {
  let holders: readonly Holder[] = [];
  let holding = false;
  /** What the hand moved last, while `live` shows it. */
  let shown: LiveChange | null = null;
  /** Moved when there was no model for it yet. */
  let pending: Move | null = null;
  /** Who is asked now, and who answered last: what is shown sounds there. */
  let answering: Holder | null = null;
  let answered: Holder | null = null;

  const end = (gone: (holder: Holder) => boolean): void => {
    for (const holder of holders) if (gone(holder)) holder.line.close();
    holders = holders.filter((holder) => !gone(holder));
  };
  const able = (text: string | null): readonly Holder[] =>
    text === null ? [] : holders.filter(({ movable, bases }) => movable !== null && bases.get(text));
  const tellMovable = (): void => {
    const now = able(store.get().text);
    store.set({ movable: [...new Set(now.flatMap(({ movable }) => movable ?? []))] });
  };
  /** Models that cannot follow the document in hand are of no more use, once they have answered. */
  const sweep = (): void => {
    const { text, hand } = store.get();
    if (text !== null)
      end((one) => one.movable !== null && one !== answering && one.bases.get(text) === null);
    tellMovable();
    if (hand.status === "ready" && able(text).length === 0) store.set({ hand: noStage });
  };

  /** Ends when the model is ready, or will not be. */
  const prepare = (text: string, only: readonly string[] | null): Promise<void> => {
    // a model of everything is long in the making: until it is ready, a small one is made beside it
    const covers = ({ text: of, only: parts, movable }: Holder): boolean =>
      of === text &&
      (only === null || parts === null
        ? parts === null && (only === null || movable !== null)
        : only.every((path) => parts.includes(path)));
    const known = holders.find(covers);
    if (known !== undefined) return known.made;
    let settle = (): void => {};
    const made = new Promise<void>((done) => {
      settle = done;
    });
    const holder: Holder = { line: hire(), text, only, movable: null, bases: new Map([[text, still]]), made };
    holders = [...holders, holder];
    void make(holder).finally(settle);
    return made;
  };
  const make = async (holder: Holder): Promise<void> => {
    const { text, only } = holder;
    const heed = (from: number, to: number) => (fraction: number, words: string) => {
      const { text: current, hand } = store.get();
      if (current === text && holders.includes(holder) && hand.status !== "ready")
        store.set({ hand: working(hand, from + (to - from) * fraction, words) });
    };
    if (able(text).length === 0) store.set({ hand: waiting(store.get().hand) });
    const { port1, port2 } = new MessageChannel();
    const made = settledOutcome(
      holder.line.ask("prepare", { port: port2, only }, { transfer: [port2], told: heed(0.1, 1) }).answer,
    );
    const sent = await basis(text, port1, heed(0, 0.1));
    if (!sent.ok) {
      end((one) => one === holder);
      fell(sent);
      return;
    }
    const outcome = await made;
    if (!holders.includes(holder)) return;
    if (!outcome.ok) {
      end((one) => one === holder);
      fell(outcome);
      return;
    }
    holder.movable = outcome.value.movable;
    // the newest model that moves everything makes all the others needless
    if (only === null) end((one) => one !== holder && one.movable !== null);
    else void prepare(text, null);
    if (store.get().text !== text) {
      sweep();
      return;
    }
    store.set({ hand: ready(true) });
    tellMovable();
    if (pending !== null) {
      const move = pending;
      pending = null;
      editor.give(move);
    }
  };
  const fell = (why: { readonly reason: string; readonly detail: string }): void => {
    const { hand } = store.get();
    if (holders.some(({ movable }) => movable === null)) return;
    store.set({
      hand: why.reason === "cancelled" ? ended(hand, "cancelled", null) : ended(hand, "failed", why.detail),
    });
  };

  const sounder = (): Holder | null =>
    shown === null || answered === null || !holders.includes(answered) ? null : answered;
  const carriedBy = ({ bases }: Holder, { text, change }: Move): LiveChange =>
    carriedChange((text === null ? undefined : bases.get(text))?.change ?? [], change);
  const holderFor = (move: Move): Holder | null => {
    const fit = able(move.text).filter((one) => followable(one.movable ?? [], carriedBy(one, move)));
    return fit.find(({ text }) => text === move.text) ?? fit[0] ?? null;
  };
  /** A small model for what the hand has taken hold of, unless one is ready or on its way. */
  const readyFor = (paths: readonly string[]): void => {
    const { text, voice } = store.get();
    if (text !== null && voice.fresh) void prepare(text, paths);
  };

  const editor = latestOnly<Move>(async (move) => {
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
    answering = null;
    if (outcome.ok) answered = holder;
    const { live } = store.get();
    if (shown !== null && outcome.ok) {
      const doubts = (move.text === null ? undefined : holder.bases.get(move.text))?.doubts ?? [];
      const needsFullSolve = [...outcome.value.needsFullSolve, ...doubts];
      store.set({ live: { ...outcome.value, change: move.change, needsFullSolve } });
    } else if (shown !== null && !outcome.ok && live !== null && holders.includes(holder))
      store.set({ live: { ...live, needsFullSolve: [outcome.detail] } });
    sweep();
  });
  const nothingShown = (): void => {
    shown = null;
    pending = null;
    editor.drop();
    store.set({ live: null });
  };
  const best = (): Holder | null => {
    const { text } = store.get();
    const own = holders.filter((one) => one.movable !== null && one.text === text);
    return own.find(({ only }) => only === null) ?? own[0] ?? null;
  };

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
      if (computed) void prepare(text, null);
    },
    textChanged: (text) => {
      const making = (one: Holder): boolean => one.text !== text && one.movable === null;
      if (holders.some(making)) callOffBasis();
      end(making);
      for (const holder of holders) {
        if (holder.bases.has(text)) continue;
        void between(holder.text, text).then((base) => {
          holder.bases.set(text, base);
          if (store.get().text === text) sweep();
        });
      }
      store.set({ hand: stale(store.get().hand) });
      tellMovable();
    },
    hold: (path) => {
      const values = /\.braces\[\d+\]$/.test(path) ? [`${path}.height`, `${path}.width`] : [path];
      const change = values.map((parameter) => ({ parameter, factor: 1 }));
      if (holderFor({ text: store.get().text, change, settle: false }) === null) readyFor(values);
    },
    drag: (change) => {
      holding = true;
      shown = change;
      editor.give({ text: store.get().text, change, settle: false });
    },
    release: () => {
      holding = false;
      if (shown !== null) editor.give({ text: store.get().text, change: shown, settle: true });
    },
    letBe: () => {
      holding = false;
      nothingShown();
    },
    levers: async (told = () => {}) => {
      const { text, voice } = store.get();
      if (text === null || !voice.fresh) return [];
      if (best() === null) await prepare(text, null);
      const holder = best();
      return holder === null ? [] : leversOf(holder, told);
    },
    tones: async (asked) => (await sounder()?.line.ask("tones", asked).answer) ?? null,
    sound: async (asked) => (await sounder()?.line.ask("sound", asked).answer) ?? null,
    cancel: () => {
      callOffBasis();
      end(({ movable }) => movable === null);
      const { hand } = store.get();
      if (hand.status === "waiting" || hand.status === "working")
        store.set({ hand: ended(hand, "cancelled", null) });
    },
    dismiss: () => {
      holding = false;
      nothingShown();
      end(() => true);
      store.set({ hand: noStage, movable: [] });
    },
  };
}
