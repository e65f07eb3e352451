import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createStore } from "zustand/vanilla";
import { type RunningServer, startServer } from "#host/server";
import { emptyBench } from "./benchParts.ts";
import type { Bench, BenchDeeds } from "./benchTypes.ts";
import type { BrowserStore } from "./keptEdits.ts";
import { type BenchAtWork, makeBench } from "./makeBench.ts";
import { memoryStore } from "./memoryStore.ts";
import type { BenchClock } from "./outbox.ts";
import { serverTalk } from "./serverTalk.ts";

export const example = readFileSync(
  new URL("../../../examples/small-ladder.fairbout.json", import.meta.url),
  "utf8",
);

/** What happens to a request on its way. */
export type Fate =
  | "arrives"
  /** Never reaches the server. */
  | "lost"
  /** Done, but the page hears nothing. */
  | "answer-lost"
  | "twice"
  /** The page hears nothing, and it reaches the server after what the page sends next. */
  | "late";

export interface Way {
  /** Fate of the next changing request. */
  fate: () => Fate;
  away: boolean;
  /** Answers to what is only read are handed over when this resolves. */
  reading: Promise<void>;
  /** Delivers what is late. */
  deliver(): Promise<void>;
}

/** Time that only passes when it is told to. */
export interface HeldClock extends BenchClock {
  /** Lets every pause that has begun end. */
  pass(): void;
}

export interface TestPage {
  readonly bench: BenchAtWork;
  readonly deeds: BenchDeeds;
  readonly now: () => Bench;
  readonly way: Way;
  readonly clock: HeldClock;
  /** Resolves when nothing is unsent, letting pauses pass; throws after many. */
  settled(): Promise<void>;
}

export async function serverOnScratch(): Promise<{ server: RunningServer; done: () => Promise<void> }> {
  const folder = mkdtempSync(join(tmpdir(), "bench-test-"));
  const server = await startServer({ folder, port: 0 });
  return {
    server,
    done: async () => {
      await server.close();
      rmSync(folder, { recursive: true });
    },
  };
}

let pages = 0;

/** A page without a browser, on a real server behind an unsure line. A second page on the same store is a reload. */
export function testPage(server: RunningServer, browser: BrowserStore = memoryStore()): TestPage {
  const store = createStore<Bench>(() => emptyBench);
  const page = `page-${++pages}`;
  let late: (() => Promise<unknown>)[] = [];
  const way: Way = {
    fate: () => "arrives",
    away: false,
    reading: Promise.resolve(),
    async deliver() {
      const now = late;
      late = [];
      for (const send of now) await send();
    },
  };
  const ask: typeof fetch = async (input, init) => {
    const send = () => fetch(new URL(String(input), server.address), init);
    if (way.away) throw new TypeError("no server");
    if (init?.method !== "POST" && init?.method !== "PUT") {
      const answer = await send();
      await way.reading;
      return answer;
    }
    const fate = way.fate();
    if (fate === "lost") throw new TypeError("lost");
    if (fate === "late") {
      late.push(send);
      throw new TypeError("late");
    }
    const answer = await send();
    if (fate === "twice") {
      const again = await send();
      if (again.status !== answer.status) throw new Error(`${answer.status}, then ${again.status}`);
    }
    if (fate === "answer-lost") throw new TypeError("answer lost");
    return answer;
  };
  const clock = heldClock();
  const bench = makeBench({
    store,
    talk: serverTalk(ask, page),
    browser,
    check: async (text) =>
      text.includes("refuse-me")
        ? { ok: false, issues: [{ code: "text", path: "brief.wishes", message: "No." }] }
        : { ok: true },
    clock,
    newId: () => crypto.randomUUID(),
    page,
  });
  return {
    bench,
    deeds: bench.deeds,
    now: () => store.getState(),
    way,
    clock,
    async settled() {
      for (
        let rounds = 0;
        store.getState().unsent > 0 || store.getState().connection === "sending";
        rounds++
      ) {
        if (rounds > 10_000) throw new Error("never settled");
        clock.pass();
        await new Promise((resolve) => setTimeout(resolve, 1));
      }
    },
  };
}

function heldClock(): HeldClock {
  let pauses: { then: () => void }[] = [];
  let second = 0;
  return {
    now: () => new Date(1_700_000_000_000 + 1000 * second++).toISOString(),
    after(_, then) {
      const pause = { then };
      pauses.push(pause);
      return {
        cut: () => {
          pauses = pauses.filter((other) => other !== pause);
        },
      };
    },
    pass() {
      const over = pauses;
      pauses = [];
      for (const { then } of over) then();
    },
  };
}
