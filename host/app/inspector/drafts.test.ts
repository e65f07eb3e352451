import { beforeEach, describe, expect, it, vi } from "vitest";

// Node has no session store; the drafts ask for one when they are loaded.
vi.hoisted(() => {
  const kept = new Map<string, string>();
  vi.stubGlobal("sessionStorage", {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => kept.set(key, value),
  });
});

import { draftKey, dropDraft, moveDrafts, putDraft, useDrafts } from "./drafts.ts";

const draft = (text: string) => ({ text, issues: null });
const texts = (): Record<string, string> =>
  Object.fromEntries(Object.entries(useDrafts.getState().byField).map(([key, { text }]) => [key, text]));

describe("what was typed and is not in the document", () => {
  beforeEach(() => useDrafts.setState({ byField: {} }));

  it("is kept in the browser's session, so that a reload shows it again", () => {
    putDraft(draftKey("a", "top.thickness"), draft("2.8"));
    expect(JSON.parse(sessionStorage.getItem("fairbout-drafts") ?? "")).toEqual({
      "a top.thickness": draft("2.8"),
    });
    dropDraft(draftKey("a", "top.thickness"));
    expect(sessionStorage.getItem("fairbout-drafts")).toBe("{}");
  });

  it("goes with its entry when the entries of a list move, and goes when its entry goes", () => {
    for (const i of [0, 1, 2, 10]) putDraft(draftKey("a", `top.braces[${i}].height`), draft(`${i}`));
    putDraft(draftKey("b", "top.braces[1].height"), draft("another instrument"));
    putDraft(draftKey("a", "back.braces[1].height"), draft("another list"));
    // entry 1 is removed
    moveDrafts("a", "top.braces", (i) => (i === 1 ? null : i > 1 ? i - 1 : i));
    expect(texts()).toEqual({
      "a top.braces[0].height": "0",
      "a top.braces[1].height": "2",
      "a top.braces[9].height": "10",
      "b top.braces[1].height": "another instrument",
      "a back.braces[1].height": "another list",
    });
  });
});
