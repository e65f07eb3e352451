import { type DBSchema, openDB } from "idb";
import type { InstrumentState } from "#host/api";
import type { StrandedEdit } from "./benchTypes.ts";
import type { BrowserStore, KeptEdit, SeenFrame } from "./keptEdits.ts";

interface Layout extends DBSchema {
  /** By order of arrival. */
  edits: { key: number; value: KeptEdit; indexes: { id: string } };
  stranded: { key: string; value: StrandedEdit };
  seen: { key: string; value: InstrumentState };
  frame: { key: string; value: SeenFrame };
}

const strict = { durability: "strict" } as const;

/** The browser's own database. Rejects where the browser has none (some private windows). */
export async function browserStore(name = "fairbout"): Promise<BrowserStore> {
  const db = await openDB<Layout>(name, 1, {
    upgrade(fresh) {
      fresh.createObjectStore("edits", { autoIncrement: true }).createIndex("id", "id", { unique: true });
      fresh.createObjectStore("stranded", { keyPath: "id" });
      fresh.createObjectStore("seen", { keyPath: "id" });
      fresh.createObjectStore("frame");
    },
  });
  return {
    async add(edit) {
      const tx = db.transaction("edits", "readwrite", strict);
      await Promise.all([tx.store.add(edit), tx.done]);
    },
    list: () => db.getAll("edits"),
    async settle(gone, changed, stranded = []) {
      const tx = db.transaction(["edits", "stranded"], "readwrite", strict);
      const edits = tx.objectStore("edits");
      for (const id of gone) {
        const key = await edits.index("id").getKey(id);
        if (key !== undefined) await edits.delete(key);
      }
      for (const edit of changed) {
        const key = await edits.index("id").getKey(edit.id);
        if (key !== undefined) await edits.put(edit, key);
      }
      for (const edit of stranded) await tx.objectStore("stranded").put(edit);
      await tx.done;
    },
    async adopt(from, to) {
      const tx = db.transaction("edits", "readwrite", strict);
      for (let cursor = await tx.store.openCursor(); cursor !== null; cursor = await cursor.continue())
        if (cursor.value.page === from) await cursor.update({ ...cursor.value, page: to });
      await tx.done;
    },
    stranded: () => db.getAll("stranded"),
    letGo: (id) => db.delete("stranded", id),
    seen: async (id) => (await db.get("seen", id)) ?? null,
    async see(state) {
      await db.put("seen", state);
    },
    frame: async () => (await db.get("frame", "bench")) ?? null,
    async seeFrame(frame) {
      await db.put("frame", frame, "bench");
    },
  };
}
