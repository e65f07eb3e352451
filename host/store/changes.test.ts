import { describe, expect, it } from "vitest";
import { documentNumber, idNumber, openScratch, scratchFolder, value } from "./scratch.fixture.ts";
import type { Store } from "./store.ts";

const guitar = idNumber(1);
const page = "page-a";
let next = 100;
const newId = () => idNumber(next++);

const made = (store: Store) =>
  value(store.make(page, { id: guitar, text: documentNumber(0), cause: "begun from an example" }));

const saved = (changed: ReturnType<Store["edit"]>) => {
  const answer = value(changed);
  if (!answer.done) throw new Error("a conflict");
  return answer.saved;
};
const edit = (store: Store, basis: number, n: number) =>
  saved(store.edit(page, guitar, { id: newId(), basis, text: documentNumber(n), cause: `to ${n}` }));
const undo = (store: Store, basis: number) => saved(store.undo(page, guitar, { id: newId(), basis }));
const redo = (store: Store, basis: number) => saved(store.redo(page, guitar, { id: newId(), basis }));

describe("changes of an instrument", () => {
  it("are revisions, each with its cause, newest first in the history", () => {
    const store = openScratch(scratchFolder());
    expect(made(store)).toMatchObject({ revision: 1, undo: null, redo: null, name: "Small ladder 0" });
    expect(edit(store, 1, 1)).toEqual({ revision: 2, undo: "to 1", redo: null });
    expect(edit(store, 2, 2)).toEqual({ revision: 3, undo: "to 2", redo: null });
    expect(value(store.history(guitar)).map(({ revision, kind, cause }) => [revision, kind, cause])).toEqual([
      [3, "edit", "to 2"],
      [2, "edit", "to 1"],
      [1, "made", "begun from an example"],
    ]);
    expect(value(store.history(guitar, 2))).toHaveLength(1);
    expect(value(store.revisionText(guitar, 2))).toBe(documentNumber(1));
  });

  it("are undone to the first state and redone to the last, across restarts", async () => {
    const folder = scratchFolder();
    let store = openScratch(folder);
    made(store);
    let at = 1;
    for (const n of [1, 2, 3]) at = edit(store, at, n).revision;
    const texts: string[] = [];
    for (let i = 0; i < 3; i++) {
      await store.close();
      store = openScratch(folder);
      const step = undo(store, at);
      at = step.revision;
      texts.push(step.text ?? "");
    }
    expect(texts).toEqual([2, 1, 0].map(documentNumber));
    expect(value(store.state(guitar))).toMatchObject({ undo: null, redo: "to 1", text: documentNumber(0) });
    texts.length = 0;
    for (let i = 0; i < 3; i++) {
      await store.close();
      store = openScratch(folder);
      const step = redo(store, at);
      at = step.revision;
      texts.push(step.text ?? "");
    }
    expect(texts).toEqual([1, 2, 3].map(documentNumber));
    expect(value(store.state(guitar))).toMatchObject({ undo: "to 3", redo: null, revision: 10 });
  });

  it("keep the branch that an edit after an undo leaves behind, to be restored", () => {
    const store = openScratch(scratchFolder());
    made(store);
    edit(store, 1, 1);
    undo(store, 2);
    expect(edit(store, 3, 2)).toEqual({ revision: 4, undo: "to 2", redo: null });
    // redo goes where the maker was last, not to the branch that was left
    expect(undo(store, 4).redo).toBe("to 2");
    expect(redo(store, 5).text).toBe(documentNumber(2));
    const back = saved(
      store.restore(page, guitar, { id: newId(), basis: 6, revision: 2, cause: "back to 1" }),
    );
    expect(back).toEqual({ revision: 7, undo: "back to 1", redo: null, text: documentNumber(1) });
    expect(undo(store, 7).text).toBe(documentNumber(2));
  });

  it("say in words when there is nothing to undo or redo", () => {
    const store = openScratch(scratchFolder());
    made(store);
    const step = { id: newId(), basis: 1 };
    expect(store.undo(page, guitar, step)).toMatchObject({ ok: false, trouble: { code: "nothing-to-undo" } });
    expect(store.redo(page, guitar, step)).toMatchObject({ ok: false, trouble: { code: "nothing-to-redo" } });
    expect(value(store.history(guitar))).toHaveLength(1);
  });

  it("happen once, however often they are sent, and answer the same", () => {
    const store = openScratch(scratchFolder());
    made(store);
    const first = { id: newId(), basis: 1, text: documentNumber(1), cause: "to 1" };
    const answer = store.edit(page, guitar, first);
    edit(store, 2, 2);
    expect(store.edit(page, guitar, first)).toEqual(answer);
    const step = { id: newId(), basis: 3 };
    const undone = store.undo(page, guitar, step);
    redo(store, 4);
    expect(store.undo(page, guitar, step)).toEqual(undone);
    made(store);
    expect(value(store.history(guitar))).toHaveLength(5);
    // the same id for something else is a mistake of the page, and nothing is written
    const other = store.edit(page, guitar, { ...first, text: documentNumber(3) });
    expect(other).toMatchObject({ ok: false, trouble: { code: "id-used" } });
    const anew = store.make(page, { id: guitar, text: documentNumber(3), cause: "other" });
    expect(anew).toMatchObject({ ok: false, trouble: { code: "id-used" } });
    expect(value(store.history(guitar))).toHaveLength(5);
  });

  it("of two pages are both kept: the first stands, the second is set aside and can be restored", () => {
    const store = openScratch(scratchFolder());
    made(store);
    edit(store, 1, 1);
    const late = { id: newId(), basis: 1, text: documentNumber(2), cause: "late" };
    const answer = value(store.edit("page-b", guitar, late));
    expect(answer).toMatchObject({
      done: false,
      conflict: {
        code: "conflict",
        current: { revision: 2 },
        aside: { revision: 3, basis: 1, cause: "late" },
      },
    });
    expect(value(store.edit("page-b", guitar, late))).toEqual(answer);
    // the first page does not notice: what was set aside is not current
    expect(edit(store, 2, 4)).toEqual({ revision: 4, undo: "to 4", redo: null });
    expect(value(store.state(guitar)).aside).toMatchObject([{ revision: 3, cause: "late" }]);
    const back = saved(store.restore(page, guitar, { id: newId(), basis: 4, revision: 3, cause: "mine" }));
    expect(back.text).toBe(documentNumber(2));
    const stale = value(store.undo(page, guitar, { id: newId(), basis: 2 }));
    expect(stale).toMatchObject({ done: false, conflict: { current: { revision: 5 }, aside: null } });
  });

  it("are refused with the places at fault when the document has any, and nothing is written", () => {
    const store = openScratch(scratchFolder());
    made(store);
    const broken = documentNumber(1).replace(/"hand": "right"/, '"hand": "wrong"');
    const answer = store.edit(page, guitar, { id: newId(), basis: 1, text: broken, cause: "broken" });
    expect(answer).toMatchObject({ ok: false, trouble: { code: "document", issues: [{ path: "hand" }] } });
    expect(store.make(page, { id: newId(), text: "{", cause: "broken" }).ok).toBe(false);
    expect(store.edit(page, newId(), { id: newId(), basis: 1, text: broken, cause: "x" })).toMatchObject({
      trouble: { code: "absent" },
    });
    expect(store.cards()).toHaveLength(1);
    expect(value(store.history(guitar))).toHaveLength(1);
  });
});

describe("what a maker made", () => {
  it("is named, put out of sight and found again, never removed", async () => {
    const folder = scratchFolder();
    let store = openScratch(folder);
    made(store);
    edit(store, 1, 1);
    const keepsake = { id: newId(), name: "before the holidays", revision: 1 };
    const kept = value(store.keepsake(page, guitar, keepsake));
    expect(value(store.keepsake(page, guitar, keepsake))).toEqual(kept);
    expect(store.keepsake(page, guitar, { ...keepsake, revision: 2 }).ok).toBe(false);
    expect(store.keepsake(page, guitar, { id: newId(), name: "none", revision: 9 }).ok).toBe(false);
    expect(value(store.putAway(guitar, { away: "yes" })).away).toBe(true);
    value(store.setPreferences({ units: "inch", light: "night" }));
    await store.close();
    store = openScratch(folder);
    expect(store.cards()).toMatchObject([{ id: guitar, away: true, revision: 2, name: "Small ladder 1" }]);
    expect(value(store.state(guitar)).keepsakes).toEqual([kept]);
    expect(store.preferences()).toEqual({ units: "inch", light: "night" });
    expect(store.putAway(newId(), { away: "yes" })).toMatchObject({ trouble: { code: "absent" } });
  });
});
