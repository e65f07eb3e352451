import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "#host/server";
import { example, type Fate, serverOnScratch, type TestPage, testPage } from "./benchOnServer.fixture.ts";
import type { KeptEdit } from "./keptEdits.ts";
import { memoryStore } from "./memoryStore.ts";

/** What happens behind the page's back is waited for, not timed. */
const patient = { timeout: 30_000 };

let server: RunningServer;
let done: () => Promise<void>;
beforeAll(async () => {
  ({ server, done } = await serverOnScratch());
});
afterAll(() => done());

const wish = (page: TestPage, words: string) =>
  page.deeds.edit([{ path: "brief.wishes", value: words }], `wishes: ${words}`);
const wishes = (page: TestPage): unknown =>
  (page.now().open?.document["brief"] as { wishes?: string } | undefined)?.wishes;
const causes = async (page: TestPage): Promise<string[]> =>
  ((await page.deeds.history()) ?? []).map(({ cause }) => cause).reverse();

async function begun(browser = memoryStore()): Promise<TestPage> {
  const page = testPage(server, browser);
  await page.bench.begin([]);
  expect(await page.deeds.begin(example, "begun")).toEqual({ ok: true });
  return page;
}

/** Another page that has the same instrument open. */
async function beside(page: TestPage): Promise<TestPage> {
  const other = testPage(server);
  await other.bench.begin([]);
  expect(await other.deeds.open(page.now().open?.id ?? "")).toEqual({ ok: true });
  return other;
}

const serverText = (page: TestPage): Promise<string | null> => page.deeds.textOf(page.now().open?.id ?? "");
const storedText = async (page: TestPage): Promise<string> => {
  const answer = await fetch(new URL(`/api/instruments/${page.now().open?.id}`, server.address));
  return ((await answer.json()) as { text: string }).text;
};

describe("an edit", () => {
  it("is shown at once, is kept, and is with the server soon", async () => {
    const page = await begun();
    const answer = wish(page, "a warm voice");
    await answer;
    expect(wishes(page)).toBe("a warm voice");
    await page.settled();
    expect(page.now()).toMatchObject({ connection: "joined", unsent: 0 });
    expect(page.now().open).toMatchObject({ revision: 2, undo: "wishes: a warm voice", redo: null });
    expect(await storedText(page)).toBe(page.now().open?.text);
  });

  it("that the engine refuses changes nothing and tells the place", async () => {
    const page = await begun();
    expect(await wish(page, "refuse-me")).toMatchObject({ ok: false, issues: [{ path: "brief.wishes" }] });
    expect(page.now()).toMatchObject({ unsent: 0, open: { text: example, revision: 1 } });
  });

  it("that this browser cannot keep is refused, and the old state is back", async () => {
    const browser = memoryStore();
    const page = await begun({
      ...browser,
      add: async () => {
        throw new DOMException("full", "QuotaExceededError");
      },
    });
    expect(await wish(page, "x")).toMatchObject({ ok: false, issues: [{ code: "browser-full" }] });
    expect(page.now()).toMatchObject({ unsent: 0, open: { text: example, undo: null } });
  });

  it("that says what is there already is no revision", async () => {
    const page = await begun();
    await page.deeds.edit([{ path: "hand", value: "right" }], "hand");
    await page.settled();
    expect(page.now().open?.revision).toBe(1);
  });
});

describe("while the server is away", () => {
  it("edits are kept and shown, and sent in order when it is back, each once", async () => {
    const page = await begun();
    page.way.away = true;
    for (const n of [1, 2, 3]) expect(await wish(page, `wish ${n}`)).toEqual({ ok: true });
    await expect.poll(() => page.now().connection, patient).toBe("lost");
    expect(page.now()).toMatchObject({ unsent: 3, open: { revision: 1 } });
    expect(wishes(page)).toBe("wish 3");
    page.way.away = false;
    await page.settled();
    expect(await causes(page)).toEqual(["begun", "wishes: wish 1", "wishes: wish 2", "wishes: wish 3"]);
    expect(await storedText(page)).toBe(page.now().open?.text);
  });

  it("a reload shows the waiting edits, and they are sent by the page that comes after", async () => {
    const browser = memoryStore();
    const before = await begun(browser);
    const id = before.now().open?.id ?? "";
    before.way.away = true;
    await wish(before, "first");
    await wish(before, "second");
    const text = before.now().open?.text;

    const after = testPage(server, browser);
    after.way.away = true;
    await after.bench.begin(await browser.list());
    await after.deeds.open(id);
    expect(after.now()).toMatchObject({ unsent: 2, open: { text, undo: "wishes: second" } });
    await wish(after, "third");
    // also undo knows what the waiting edits came from
    expect(await after.deeds.undo()).toEqual({ ok: true });
    expect(after.now().open?.text).toBe(text);
    after.way.away = false;
    await after.settled();
    expect(await causes(after)).toEqual([
      "begun",
      "wishes: first",
      "wishes: second",
      "wishes: third",
      "undo: wishes: third",
    ]);
    expect(await storedText(after)).toBe(text);
  });

  it("an instrument that was open here opens; one that never was does not", async () => {
    const browser = memoryStore();
    const before = await begun(browser);
    const after = testPage(server, browser);
    after.way.away = true;
    await after.bench.begin([]);
    expect(await after.deeds.open(before.now().open?.id ?? "")).toEqual({ ok: true });
    expect(after.now().open?.text).toBe(example);
    expect(await after.deeds.open(crypto.randomUUID())).toMatchObject({
      ok: false,
      issues: [{ code: "server-lost" }],
    });
  });
});

describe("on a line that loses, doubles and delays", () => {
  it.each([1, 2, 3, 4, 5, 6])("every edit is done once and in order, seed %i", async (seed) => {
    const random = seededRandom(seed);
    const browser = memoryStore();
    let page = await begun(browser);
    const id = page.now().open?.id ?? "";
    const fates: Fate[] = ["arrives", "lost", "answer-lost", "twice", "late"];
    const wild = (p: TestPage) => {
      p.way.fate = () => fates[Math.floor(random() * fates.length)] ?? "arrives";
    };
    wild(page);
    const said: string[] = ["begun"];
    for (let n = 0; n < 24; n++) {
      const dice = random();
      if (dice < 0.2 && page.now().open?.undo != null) {
        // an undo that only the server knows is not asked for on such a line
        if (page.now().unsent > 0) {
          const cause = `undo: ${page.now().open?.undo}`;
          if ((await page.deeds.undo()).ok) said.push(cause);
        }
      } else {
        expect(await wish(page, `wish ${n}`)).toEqual({ ok: true });
        said.push(`wishes: wish ${n}`);
      }
      if (random() < 0.5) page.clock.pass();
      if (random() < 0.3) await page.way.deliver();
      if (random() < 0.2) await new Promise((resolve) => setTimeout(resolve, 3));
      if (random() < 0.1) {
        // the page is closed in the middle of it, and opened again
        const closed = page;
        closed.way.away = true;
        await new Promise((resolve) => setTimeout(resolve, 30));
        const text = closed.now().open?.text;
        page = testPage(server, browser);
        await page.bench.begin(await browser.list());
        await page.deeds.open(id);
        wild(page);
        expect(page.now().open?.text).toBe(text);
      }
    }
    page.way.fate = () => "arrives";
    await page.settled();
    await page.way.deliver();
    expect(page.now()).toMatchObject({ conflict: null, stranded: [] });
    expect(await causes(page)).toEqual(said);
    expect(await storedText(page)).toBe(page.now().open?.text);
  });

  it("what is opened is no older than the waiting edits that went out while it was asked for", async () => {
    const browser = memoryStore();
    const page = await begun(browser);
    const id = page.now().open?.id ?? "";
    page.way.away = true;
    await wish(page, "kept");
    const after = testPage(server, browser);
    let handOver = (): void => {};
    after.way.reading = new Promise((resolve) => {
      handOver = resolve;
    });
    const opening = after.deeds.open(id);
    // the server's answer is on its way: it was asked before it had the edit
    await new Promise((resolve) => setTimeout(resolve, 50));
    after.bench.takeUp(await browser.list());
    await after.settled();
    handOver();
    expect(await opening).toEqual({ ok: true });
    expect(wishes(after)).toBe("kept");
    expect(after.now().open?.revision).toBe(2);
  });

  it("a browser that fails between the server's answer and its own note sends the same again, done once", async () => {
    const browser = memoryStore();
    let fail = true;
    const page = await begun({
      ...browser,
      settle: async (...args) => {
        if (fail) throw new Error("disk");
        await browser.settle(...args);
      },
    });
    const id = page.now().open?.id ?? "";
    await wish(page, "first");
    await wish(page, "second");
    await expect.poll(() => page.now().connection, patient).toBe("lost");
    expect(await browser.list()).toHaveLength(2);
    fail = false;
    const after = testPage(server, browser);
    await after.bench.begin(await browser.list());
    await after.deeds.open(id);
    await after.settled();
    expect(await causes(after)).toEqual(["begun", "wishes: first", "wishes: second"]);
    expect(await browser.list()).toEqual([]);
  });
});

describe("undo and redo", () => {
  it("run through the whole history, also through what an earlier page did", async () => {
    const page = await begun();
    for (const n of [1, 2, 3]) await wish(page, `wish ${n}`);
    await page.settled();
    const other = await beside(page);
    const first = JSON.parse(example).brief.wishes;
    for (const expected of ["wish 2", "wish 1", first]) {
      expect(await other.deeds.undo()).toEqual({ ok: true });
      expect(wishes(other)).toBe(expected);
    }
    expect(other.now().open).toMatchObject({ undo: null, redo: "wishes: wish 1" });
    expect(await other.deeds.undo()).toMatchObject({ ok: false, issues: [{ code: "nothing-to-undo" }] });
    for (const expected of ["wish 1", "wish 2", "wish 3"]) {
      expect(await other.deeds.redo()).toEqual({ ok: true });
      expect(wishes(other)).toBe(expected);
    }
    await other.settled();
    expect(other.now().open).toMatchObject({ redo: null, undo: "wishes: wish 3", revision: 10 });
    expect(await storedText(other)).toBe(other.now().open?.text);
  });

  it("work while the server is away as far as this page knows, and say so beyond", async () => {
    const page = await begun();
    await wish(page, "known to the server");
    await page.settled();
    const other = await beside(page);
    await wish(other, "known here");
    await other.settled();
    other.way.away = true;
    expect(await other.deeds.undo()).toEqual({ ok: true });
    expect(wishes(other)).toBe("known to the server");
    expect(other.now().open?.undo).toBe("wishes: known to the server");
    expect(await other.deeds.undo()).toMatchObject({ ok: false, issues: [{ code: "server-lost" }] });
    expect(await other.deeds.redo()).toEqual({ ok: true });
    expect(wishes(other)).toBe("known here");
    other.way.away = false;
    await other.settled();
    expect(await storedText(other)).toBe(other.now().open?.text);
  });

  it("an edit after an undo leaves nothing to redo", async () => {
    const page = await begun();
    await wish(page, "one");
    await page.deeds.undo();
    await wish(page, "two");
    expect(page.now().open).toMatchObject({ undo: "wishes: two", redo: null });
    await page.settled();
    expect(page.now().open).toMatchObject({ undo: "wishes: two", redo: null });
  });

  it("an old revision is restored as a new one", async () => {
    const page = await begun();
    await wish(page, "one");
    await page.settled();
    expect(await page.deeds.restore(1, "back to the start")).toEqual({ ok: true });
    expect(page.now().open?.text).toBe(example);
    await page.settled();
    expect(page.now().open).toMatchObject({ revision: 3, undo: "back to the start" });
  });
});

describe("two pages", () => {
  it("a change of another page is taken over at once where nothing is unsent", async () => {
    const [one, two] = await pair();
    await wish(two, "from the other page");
    await two.settled();
    one.bench.hear({ kind: "changed", instrument: one.now().open?.id ?? "", revision: 2, by: "other" });
    await expect.poll(() => wishes(one), patient).toBe("from the other page");
    expect(one.now()).toMatchObject({
      conflict: null,
      open: { revision: 2, undo: "wishes: from the other page" },
    });
  });

  it("the second of two changes is set aside with all that waited behind it; both are kept", async () => {
    const [one, two] = await pair();
    one.way.away = true;
    await wish(one, "mine 1");
    await wish(one, "mine 2");
    await wish(one, "mine 3");
    const mine = one.now().open?.text;
    await wish(two, "theirs");
    await two.settled();
    one.way.away = false;
    await one.settled();
    expect(wishes(one)).toBe("theirs");
    const { conflict } = one.now();
    expect(conflict?.aside?.cause).toBe("wishes: mine 3");
    expect(conflict?.current.aside.map(({ cause }) => cause)).toEqual([
      "wishes: mine 3",
      "wishes: mine 2",
      "wishes: mine 1",
    ]);
    expect(await wish(one, "more")).toMatchObject({ ok: false, issues: [{ code: "conflict" }] });

    await one.deeds.settleConflict("mine");
    await one.settled();
    expect(one.now()).toMatchObject({ conflict: null, open: { text: mine } });
    expect(await storedText(one)).toBe(mine);
    expect(await one.deeds.undo()).toEqual({ ok: true });
    expect(wishes(one)).toBe("theirs");
  });

  it("theirs may stand; mine stays set aside", async () => {
    const [one, two] = await pair();
    await wish(two, "theirs");
    await two.settled();
    await wish(one, "mine");
    await one.settled();
    await one.deeds.settleConflict("theirs");
    expect(one.now()).toMatchObject({ conflict: null, open: { aside: [{ cause: "wishes: mine" }] } });
    expect(await wish(one, "on top of theirs")).toEqual({ ok: true });
    await one.settled();
    expect(await serverText(one)).toContain("on top of theirs");
  });

  it("an undo against another page's change undoes nothing and shows what stands", async () => {
    const [one, two] = await pair();
    await wish(one, "base");
    await one.settled();
    two.bench.hear({ kind: "changed", instrument: one.now().open?.id ?? "", revision: 2, by: "other" });
    await expect.poll(() => wishes(two), patient).toBe("base");
    await wish(two, "theirs");
    await two.settled();
    await one.deeds.undo();
    await one.settled();
    expect(wishes(one)).toBe("theirs");
    expect(one.now().conflict).toMatchObject({ aside: null });
    await one.deeds.settleConflict("mine");
    expect(one.now().conflict).toBeNull();
  });
});

describe("what the server refuses", () => {
  it("is kept in this browser with what came after it, and the page shows what stands", async () => {
    const browser = memoryStore();
    const page = await begun(browser);
    page.way.away = true;
    // a page of another version might let this pass
    await page.deeds.edit([{ path: "bridge.length", value: "3 km" }], "bridge: 3 km");
    await wish(page, "after it");
    page.way.away = false;
    await page.settled();
    await expect.poll(() => page.now().open?.text, patient).toBe(example);
    expect(page.now().stranded.map(({ cause }) => cause)).toEqual(["bridge: 3 km", "wishes: after it"]);
    expect(await browser.stranded()).toEqual(page.now().stranded);
    for (const { id } of page.now().stranded) await page.deeds.letGo(id);
    expect(await browser.stranded()).toEqual([]);
    expect(await wish(page, "goes on")).toEqual({ ok: true });
    await page.settled();
    expect(await storedText(page)).toContain("goes on");
  });

  it("an edit whose forerunner is gone goes to the server on the first revision, as a conflict", async () => {
    const browser = memoryStore();
    const page = await begun(browser);
    await wish(page, "one");
    await page.settled();
    const open = page.now().open;
    const orphan: KeptEdit = {
      id: crypto.randomUUID(),
      page: "gone",
      instrument: open?.id ?? "",
      kind: "edit",
      basis: null,
      after: "lost",
      text: example.replace("Small", "Tiny"),
      cause: "orphan",
      at: "2026-01-01T00:00:00.000Z",
      revision: null,
    };
    await browser.add(orphan);
    page.bench.takeUp([orphan]);
    await page.settled();
    expect(page.now().conflict?.aside?.cause).toBe("orphan");
    expect(wishes(page)).toBe("one");
  });
});

async function pair(): Promise<[TestPage, TestPage]> {
  const one = await begun();
  return [one, await beside(one)];
}

/** mulberry32. */
function seededRandom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
