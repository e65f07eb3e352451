/** Work on the newest of what it is given, one at a time; what comes in between replaces what waits. */
export interface LatestOnly<T> {
  give(value: T): void;
  /** What waits is dropped; what is under way ends by itself and finds itself superseded. */
  drop(): void;
}

/** `work` must not reject. `superseded`: whether something newer waits, or nothing is wanted any more. */
export function latestOnly<T>(work: (value: T, superseded: () => boolean) => Promise<void>): LatestOnly<T> {
  let next: { readonly value: T } | null = null;
  let working = false;
  let turn = 0;
  const go = async (): Promise<void> => {
    working = true;
    while (next !== null) {
      const { value } = next;
      next = null;
      const own = turn;
      await work(value, () => own !== turn);
    }
    working = false;
  };
  return {
    give: (value) => {
      turn++;
      next = { value };
      if (!working) void go();
    },
    drop: () => {
      turn++;
      next = null;
    },
  };
}
