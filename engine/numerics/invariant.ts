/** Guards against our own mistakes (never against the maker's data): throws, also in shipped code. */
export function invariant(condition: unknown, say: () => string): asserts condition {
  if (!condition) throw new Error(`invariant broken: ${say()}`);
}
