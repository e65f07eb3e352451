/**
 * Answers questions one at a time: while one is worked on, the newest waits, and those before it are answered null. The one
 * under way is always answered. `work` must not reject.
 */
export function newestWaits<Q, A>(work: (question: Q) => Promise<A>): (question: Q) => Promise<A | null> {
  let waits: { readonly question: Q; readonly settle: (answer: A | null) => void } | null = null;
  let working = false;
  const go = async (): Promise<void> => {
    working = true;
    while (waits !== null) {
      const { question, settle } = waits;
      waits = null;
      settle(await work(question));
    }
    working = false;
  };
  return (question) =>
    new Promise((settle) => {
      waits?.settle(null);
      waits = { question, settle };
      if (!working) void go();
    });
}
