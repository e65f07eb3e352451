/** A job of a slot. Must not reject; `called off` is told through what it was given to begin with. */
export type SlotJob = () => Promise<void>;

/** One job at a time out of a few slots, most urgent first; a slot holds the newest wish only. */
export interface OneAtATime<K extends string> {
  want(slot: K, job: SlotJob): void;
  /** What waits in the slot is forgotten; what is under way is not touched. */
  forget(slot: K): void;
  readonly running: K | null;
}

/** `order`: slots, most urgent first. */
export function oneAtATime<K extends string>(order: readonly K[]): OneAtATime<K> {
  const waiting = new Map<K, SlotJob>();
  let running: K | null = null;
  const next = (): void => {
    if (running !== null) return;
    const slot = order.find((one) => waiting.has(one));
    if (slot === undefined) return;
    const job = waiting.get(slot)!;
    waiting.delete(slot);
    running = slot;
    void job().finally(() => {
      running = null;
      next();
    });
  };
  return {
    want: (slot, job) => {
      waiting.set(slot, job);
      next();
    },
    forget: (slot) => {
      waiting.delete(slot);
    },
    get running() {
      return running;
    },
  };
}
