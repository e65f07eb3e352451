import { create } from "zustand";
import { registerKeeper } from "../keeper/registerKeeper.ts";
import { emptyBench } from "./benchParts.ts";
import type { Bench, BenchDeeds, EditAnswer } from "./benchTypes.ts";
import { browserStore } from "./browserStore.ts";
import type { BrowserStore } from "./keptEdits.ts";
import { makeBench } from "./makeBench.ts";
import { memoryStore } from "./memoryStore.ts";
import { holdLife, orphanedEdits } from "./pageLife.ts";
import { openServerLine } from "./serverLine.ts";
import { serverTalk } from "./serverTalk.ts";

/** State of the bench, for components: useBench((bench) => bench.open). */
export const useBench = create<Bench>()(() => emptyBench);

let atWork: BenchDeeds | null = null;

/** What the page may do with the bench, from `startBench` on. */
export const benchDeeds: BenchDeeds = new Proxy({} as BenchDeeds, {
  get(_, name) {
    if (atWork === null) throw new Error(`benchDeeds.${String(name)} before startBench`);
    return atWork[name as keyof BenchDeeds];
  },
});

/** How often a page looks for edits that other, since closed pages left. Milliseconds. */
const orphanEvery = 20_000;

/**
 * Starts the bench once for the page: what this browser kept, and the server's frame. Resolves when there is something to show. `check` is the engine's word on a document, from its own thread.
 */
export async function startBench(check: (text: string) => Promise<EditAnswer>): Promise<void> {
  const page = crypto.randomUUID();
  let browser: BrowserStore;
  let keeps = true;
  try {
    browser = await browserStore();
  } catch {
    browser = memoryStore();
    keeps = false;
  }
  await holdLife(page);
  const bench = makeBench({
    store: useBench,
    talk: serverTalk((input, init) => fetch(input, init), page),
    browser,
    check,
    clock: {
      now: () => new Date().toISOString(),
      after(milliseconds, then) {
        const timer = setTimeout(then, milliseconds);
        return { cut: () => clearTimeout(timer) };
      },
    },
    newId: () => crypto.randomUUID(),
    page,
  });
  atWork = bench.deeds;
  await bench.begin(await orphanedEdits(page, browser));
  if (!keeps)
    useBench.setState(({ notices }) => ({
      notices: [
        ...notices,
        "This browser keeps nothing (a private window?): don't close the page while edits are unsent.",
      ],
    }));
  openServerLine(bench.hear, bench.line);
  addEventListener("online", () => bench.deeds.tryNow());
  registerKeeper();
  setInterval(() => void orphanedEdits(page, browser).then(bench.takeUp), orphanEvery);
}
