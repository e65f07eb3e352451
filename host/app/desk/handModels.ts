import type { Between } from "./changeBetween.ts";
import type { DeskStore } from "./deskTypes.ts";
import type { HandDuties } from "./handDuties.ts";
import type { Line } from "./line.ts";
import { type Settled, settledOutcome } from "./settled.ts";
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

/** A worker that holds the model of one voice, or is making it. */
export interface Holder {
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

/** The models that live edits are answered by. */
export interface HandModels {
  /** Those that are ready and can follow this text. */
  able(text: string | null): readonly Holder[];
  /** The ready model of this very text that moves most; null: there is none. */
  own(text: string): Holder | null;
  has(holder: Holder): boolean;
  /** A model of everything for this text, after one that is in the making already. */
  everything(text: string): void;
  /** A model of `only` these values of the text, or of all. Ends when it is ready, or will not be. */
  prepare(text: string, only: readonly string[] | null): Promise<void>;
  textChanged(text: string): void;
  /** Those that cannot follow the document in hand are of no more use, once they have answered. */
  sweep(): void;
  cancel(): void;
  dismiss(): void;
}

const still: Between = { change: [], doubts: [] };

/** `answering`: who must not be ended now. `becameReady`: told when one more model is ready that can follow the document in hand. */
export function handModels(
  { hire, store, basis, callOffBasis, between }: HandNeeds,
  answering: () => Holder | null,
  becameReady: () => void,
): HandModels {
  let holders: readonly Holder[] = [];

  const end = (gone: (holder: Holder) => boolean): void => {
    const going = holders.filter(gone);
    holders = holders.filter((holder) => !going.includes(holder));
    if (going.some(({ movable }) => movable === null)) callOffBasis();
    for (const { line } of going) line.close();
  };
  const able = (text: string | null): readonly Holder[] =>
    text === null ? [] : holders.filter(({ movable, bases }) => movable !== null && bases.get(text));
  const tell = (): void => {
    const { text, hand } = store.get();
    const now = able(text);
    store.set({ movable: [...new Set(now.flatMap(({ movable }) => movable ?? []))] });
    if (now.length > 0) {
      store.set({ hand: now.some((one) => one.text === text) ? ready(true) : stale(ready(true)) });
      return;
    }
    const making = holders.some(({ movable }) => movable === null);
    const busy = hand.status === "waiting" || hand.status === "working";
    if (hand.status === "ready" || (busy && !making)) store.set({ hand: making ? waiting(hand) : noStage });
  };
  const sweep = (): void => {
    const { text } = store.get();
    if (text !== null) end((one) => one !== answering() && one.bases.get(text) === null);
    tell();
  };

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
      if (current === null || hand.status === "ready") return;
      if (holders.includes(holder) && holder.bases.get(current))
        store.set({ hand: working(hand, from + (to - from) * fraction, words) });
    };
    if (able(text).length === 0) store.set({ hand: waiting(store.get().hand) });
    const { port1, port2 } = new MessageChannel();
    const told = heed(0.1, 1);
    const made = settledOutcome(
      holder.line.ask("prepare", { port: port2, only }, { transfer: [port2], told }).answer,
    );
    const sent = await basis(text, port1, heed(0, 0.1));
    const outcome = sent.ok ? await made : sent;
    if (!holders.includes(holder)) return;
    if (!outcome.ok) {
      holders = holders.filter((one) => one !== holder);
      holder.line.close();
      fell(outcome);
      return;
    }
    holder.movable = outcome.value.movable;
    const { text: current } = store.get();
    // a model that moves everything makes those before it needless
    if (only === null)
      end((one) => one !== holder && one.movable !== null && (text === current || one.text !== current));
    else if (text === current) everything(text);
    sweep();
    if (able(current).includes(holder)) becameReady();
  };
  const everything = (text: string): void => {
    const before = holders.find((one) => one.only === null && one.movable === null && one.text !== text);
    if (before === undefined) void prepare(text, null);
    else
      void before.made.then(() => {
        const { text: current, voice } = store.get();
        if (current === text && voice.fresh) everything(text);
      });
  };
  const fell = (why: { readonly reason: string; readonly detail: string }): void => {
    const { text, hand } = store.get();
    if (able(text).length > 0 || holders.some(({ movable }) => movable === null)) return;
    const cancelled = why.reason === "cancelled";
    store.set({ hand: ended(hand, cancelled ? "cancelled" : "failed", cancelled ? null : why.detail) });
  };

  return {
    able,
    own: (text) => {
      const own = holders.filter((one) => one.movable !== null && one.text === text);
      return own.find(({ only }) => only === null) ?? own[0] ?? null;
    },
    has: (holder) => holders.includes(holder),
    everything,
    prepare,
    sweep,
    textChanged: (text) => {
      store.set({ hand: stale(store.get().hand) });
      const unknown = holders.filter(({ bases }) => !bases.has(text));
      // what could be moved before can most often be moved now: nothing flickers until that is known
      if (unknown.length === 0) tell();
      for (const holder of unknown)
        void between(holder.text, text).then((base) => {
          holder.bases.set(text, base);
          if (store.get().text !== text) return;
          sweep();
          if (able(text).includes(holder)) becameReady();
        });
    },
    cancel: () => {
      end(({ movable }) => movable === null);
      const { hand } = store.get();
      if (hand.status === "waiting" || hand.status === "working")
        store.set({ hand: ended(hand, "cancelled", null) });
    },
    dismiss: () => {
      end(() => true);
      store.set({ hand: noStage, movable: [] });
    },
  };
}
