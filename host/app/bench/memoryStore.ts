import type { InstrumentState } from "#host/api";
import type { StrandedEdit } from "./benchTypes.ts";
import type { BrowserStore, KeptEdit, SeenFrame } from "./keptEdits.ts";

/** The same, for as long as the page lives: for tests, and for a browser that keeps nothing (the page then says so). */
export function memoryStore(): BrowserStore {
  let edits: readonly KeptEdit[] = [];
  let strandedEdits: readonly StrandedEdit[] = [];
  const states = new Map<string, InstrumentState>();
  let frame: SeenFrame | null = null;
  return {
    async add(edit) {
      edits = [...edits, edit];
    },
    list: async () => edits,
    async settle(gone, changed, stranded = []) {
      edits = edits
        .filter((edit) => !gone.includes(edit.id))
        .map((edit) => changed.find(({ id }) => id === edit.id) ?? edit);
      strandedEdits = [...strandedEdits, ...stranded];
    },
    async adopt(from, to) {
      edits = edits.map((edit) => (edit.page === from ? { ...edit, page: to } : edit));
    },
    stranded: async () => strandedEdits,
    async letGo(id) {
      strandedEdits = strandedEdits.filter((edit) => edit.id !== id);
    },
    seen: async (id) => states.get(id) ?? null,
    async see(state) {
      states.set(state.id, state);
    },
    frame: async () => frame,
    async seeFrame(next) {
      frame = next;
    },
  };
}
