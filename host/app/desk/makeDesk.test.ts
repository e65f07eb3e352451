import { describe, expect, it } from "vitest";
import { create } from "zustand";
import type { Desk } from "./deskTypes.ts";
import type { Asked } from "./line.ts";
import { makeDesk } from "./makeDesk.ts";
import { emptyDesk } from "./useDesk.ts";

interface Question {
  readonly worker: string;
  readonly kind: string;
  readonly input: unknown;
  readonly told: ((fraction: number, words: string) => void) | undefined;
  answer(value: unknown): Promise<void>;
  calledOff: boolean;
}

const turns = async (): Promise<void> => {
  for (let i = 0; i < 30; i++) await Promise.resolve();
};
const done = (value: unknown) => ({ ok: true, value, warnings: [] });

/** A desk whose workers answer when the test says so; the light stages answer themselves with their own name and text. */
function deskOnPaper() {
  const questions: Question[] = [];
  const ended: string[] = [];
  let hired = 0;
  let between: unknown = { change: [{ parameter: "p", factor: 2 }], doubts: [] };
  const hire = (worker: string) => {
    const name = worker === "hand" ? `hand ${++hired}` : worker;
    const waiting = new Set<(error: Error) => void>();
    return {
      ask: (kind: string, input: unknown, { told }: { told?: Question["told"] } = {}): Asked<never> => {
        const question: Question = {
          worker: name,
          kind,
          input,
          told,
          answer: async () => {},
          calledOff: false,
        };
        const answer = new Promise<unknown>((settle, fail) => {
          waiting.add(fail);
          question.answer = async (value) => {
            settle(value);
            await turns();
          };
        });
        if (name !== "light") questions.push(question);
        else if (kind === "between") void question.answer(between);
        else void question.answer(done(`${kind} of ${input}`));
        return {
          answer: answer as Promise<never>,
          callOff: () => {
            question.calledOff = true;
          },
        };
      },
      close: () => {
        ended.push(name);
        for (const fail of waiting) fail(new Error("the worker was dismissed"));
      },
    } as never;
  };
  const store = create<Desk>()(() => emptyDesk);
  const deeds = makeDesk(
    { light: () => hire("light"), heavy: () => hire("heavy"), hand: () => hire("hand") },
    { get: store.getState, set: (change) => store.setState(change) },
  );
  const asked = (kind: string): Question => {
    const found = questions.findLast((q) => q.kind === kind);
    if (found === undefined) throw new Error(`nobody was asked for ${kind}`);
    return found;
  };
  const all = (kind: string): Question[] => questions.filter((q) => q.kind === kind);
  const count = (kind: string): number => all(kind).length;
  return {
    deeds,
    state: store.getState,
    asked,
    all,
    count,
    ended,
    between: (answer: unknown) => {
      between = answer;
    },
  };
}

/** Follows the text until its voice is computed. */
async function voiced(on: ReturnType<typeof deskOnPaper>, text: string): Promise<void> {
  on.deeds.want("voice");
  on.deeds.want("hand");
  on.deeds.follow(text);
  await turns();
  await on.asked("recallVoice").answer(null);
  await on.asked("voice").answer(done(`voice of ${text}`));
}

/** Has the hand's model of everything made. */
async function handed(on: ReturnType<typeof deskOnPaper>): Promise<void> {
  await on.asked("basis").answer(done(true));
  await on.asked("prepare").answer(done({ movable: ["p", "q"] }));
}

describe("the desk's stages", () => {
  it("are brought up to date with the document, the newest alone", async () => {
    const on = deskOnPaper();
    on.deeds.follow("a");
    on.deeds.follow("b");
    await turns();
    expect(on.state().sketch).toMatchObject({ status: "ready", fresh: true, value: "sketch of b" });
    on.deeds.follow("c");
    expect(on.state().setup).toMatchObject({ fresh: false, value: "setup of b" });
    await turns();
    expect(on.state().neck).toMatchObject({ status: "ready", fresh: true, value: "neck of c" });
  });

  it("show a voice that is known at once, and compute no other", async () => {
    const on = deskOnPaper();
    on.deeds.want("voice");
    on.deeds.follow("a");
    await turns();
    expect(on.state().voice.status).toBe("waiting");
    await on.asked("recallVoice").answer("known voice");
    expect(on.state().voice).toMatchObject({ status: "ready", fresh: true, value: "known voice" });
    expect(on.count("voice")).toBe(0);
  });

  it("say how far the voice has come, and never show that of an earlier document as fresh", async () => {
    const on = deskOnPaper();
    on.deeds.want("voice");
    on.deeds.follow("a");
    await turns();
    await on.asked("recallVoice").answer(null);
    const first = on.asked("voice");
    first.told?.(0.4, "air inside");
    expect(on.state().voice).toMatchObject({ status: "working", fraction: 0.4, words: "air inside" });
    on.deeds.follow("b");
    expect(first.calledOff).toBe(true);
    await first.answer(done("voice of a"));
    expect(on.state().voice.value).toBeNull();
    await on.asked("recallVoice").answer(null);
    await on.asked("voice").answer(done("voice of b"));
    expect(on.state().voice).toMatchObject({ fresh: true, value: "voice of b" });
    on.deeds.follow("c");
    expect(on.state().voice).toMatchObject({ fresh: false, value: "voice of b" });
  });

  it("stop at once when they are cancelled, and begin again when they are wanted", async () => {
    const on = deskOnPaper();
    on.deeds.want("load");
    on.deeds.follow("a");
    await turns();
    await on.asked("recallLoad").answer(null);
    on.deeds.cancel("load");
    expect(on.asked("load").calledOff).toBe(true);
    expect(on.state().load.status).toBe("cancelled");
    await on.asked("load").answer(done("too late"));
    expect(on.state().load).toMatchObject({ status: "cancelled", value: null });
    on.deeds.want("load");
    await turns();
    expect(on.count("recallLoad")).toBe(2);
  });

  it("carry the reason when they fail", async () => {
    const on = deskOnPaper();
    on.deeds.want("voice");
    on.deeds.follow("a");
    await turns();
    await on.asked("recallVoice").answer(null);
    await on.asked("voice").answer({ ok: false, reason: "mesh", detail: "the top is in two pieces" });
    expect(on.state().voice).toMatchObject({ status: "failed", fault: "the top is in two pieces" });
  });

  it("compute every voice that is asked for on the side, one after the other", async () => {
    const on = deskOnPaper();
    const answers = ["x", "y", "z"].map((text) => on.deeds.voiceOf(text));
    for (const text of ["x", "y", "z"]) {
      await turns();
      for (const known of on.all("recallVoice")) await known.answer(null);
      expect(on.asked("voice").input).toBe(text);
      await on.asked("voice").answer(text === "y" ? { ok: false, reason: "mesh", detail: "" } : done(text));
    }
    expect(await Promise.all(answers)).toEqual(["x", null, "z"]);
  });

  it("are empty again when nothing is in hand", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    on.deeds.follow(null);
    await turns();
    expect({ ...on.state(), text: null }).toEqual(emptyDesk);
  });
});

describe("the hand", () => {
  it("has no model made until somebody works by hand, then that of the voice that is there", async () => {
    const on = deskOnPaper();
    on.deeds.want("voice");
    on.deeds.follow("a");
    await turns();
    await on.asked("recallVoice").answer(null);
    await on.asked("voice").answer(done("voice of a"));
    expect(on.state().hand.status).toBe("none");
    expect(on.count("basis")).toBe(0);
    on.deeds.want("hand");
    expect(on.state().hand.status).toBe("waiting");
    await handed(on);
    expect(on.state()).toMatchObject({ hand: { status: "ready" }, movable: ["p", "q"] });
  });

  const to = (factor: number) => [{ parameter: "p", factor }];

  it("has its model made after a computed voice; the newest move is answered, one at a time", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    expect(on.state().hand.status).toBe("waiting");
    await handed(on);
    expect(on.state()).toMatchObject({ hand: { status: "ready" }, movable: ["p", "q"] });
    for (const factor of [0.9, 0.8, 0.7]) on.deeds.drag(to(factor));
    await turns();
    expect(on.count("edit")).toBe(1);
    await on.asked("edit").answer(done({ exactness: "live", needsFullSolve: [] }));
    expect(on.asked("edit").input).toEqual(to(0.7));
    expect(on.count("edit")).toBe(2);
    expect(on.state().live?.change).toEqual(to(0.9));
  });

  it("is settled when it lets go, and what it moved is shown until the next voice is there", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await handed(on);
    on.deeds.drag(to(0.9));
    await turns();
    on.deeds.release();
    await on.asked("edit").answer(done({ exactness: "live", needsFullSolve: [] }));
    await on.asked("settle").answer(done({ exactness: "settled", needsFullSolve: [] }));
    expect(on.state().live?.exactness).toBe("settled");
    on.deeds.follow("b");
    await turns();
    await on.asked("recallVoice").answer(null);
    expect(on.state().live).not.toBeNull();
    await on.asked("voice").answer(done("voice of b"));
    expect(on.state().live).toBeNull();
  });

  it("goes on with the model it has after its edit was accepted, with that edit carried in it", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await handed(on);
    on.deeds.drag(to(2));
    await turns();
    on.deeds.release();
    on.deeds.follow("b");
    await on.asked("edit").answer(done({ exactness: "live", needsFullSolve: [] }));
    // moved before the document changed: told of the document that it was moved on
    expect(on.asked("settle").input).toEqual(to(2));
    await on.asked("settle").answer(done({ exactness: "settled", needsFullSolve: [] }));
    on.deeds.drag(to(1.5));
    await turns();
    expect(on.asked("edit").input).toEqual(to(3));
    expect(on.ended).toEqual([]);
  });

  it("gets a small model of what it takes hold of while that of everything is in the making", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await on.asked("basis").answer(done(true));
    on.deeds.hold("p");
    await turns();
    await on.asked("basis").answer(done(true));
    const small = on.asked("prepare");
    expect(small.input).toMatchObject({ only: ["p"] });
    on.deeds.drag(to(0.9));
    await turns();
    expect(on.count("edit")).toBe(0);
    await small.answer(done({ movable: ["p"] }));
    expect(on.asked("edit").input).toEqual(to(0.9));
  });

  it("waits for the voice of a cached document to be computed again only when it takes hold of something", async () => {
    const on = deskOnPaper();
    on.deeds.want("voice");
    on.deeds.follow("a");
    await turns();
    await on.asked("recallVoice").answer("known voice");
    expect(on.count("basis")).toBe(0);
    on.deeds.hold("p");
    await turns();
    expect(on.count("basis")).toBe(1);
  });

  it("finishes the model in the making through an edit that it can carry, and only then makes the next", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await on.asked("basis").answer(done(true));
    const first = on.asked("prepare");
    on.deeds.follow("b");
    await turns();
    await on.asked("recallVoice").answer(null);
    await on.asked("voice").answer(done("voice of b"));
    expect(on.count("prepare")).toBe(1);
    await first.answer(done({ movable: ["p", "q"] }));
    expect(on.state()).toMatchObject({ hand: { status: "ready", fresh: false }, movable: ["p", "q"] });
    await on.asked("basis").answer(done(true));
    expect(on.count("prepare")).toBe(2);
    await on.asked("prepare").answer(done({ movable: ["p", "q"] }));
    expect(on.state().hand).toMatchObject({ status: "ready", fresh: true });
    expect(on.ended).toEqual(["hand 1"]);
  });

  it("has its own model again when the edit is undone", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await handed(on);
    on.deeds.follow("b");
    await turns();
    expect(on.state().hand).toMatchObject({ status: "ready", fresh: false });
    on.deeds.follow("a");
    await turns();
    expect(on.state()).toMatchObject({ hand: { status: "ready", fresh: true }, movable: ["p", "q"] });
  });

  it("drops the model that cannot follow the document", async () => {
    const on = deskOnPaper();
    on.between(null);
    await voiced(on, "a");
    await handed(on);
    on.deeds.follow("b");
    await turns();
    expect(on.ended).toEqual(["hand 1"]);
    expect(on.state()).toMatchObject({ hand: { status: "none" }, movable: [] });
  });

  it("has the shapes of its modes follow the figures when it pauses and somebody looks", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await handed(on);
    const lookAway = on.deeds.watchShapes();
    on.deeds.drag(to(0.9));
    on.deeds.drag(to(0.8));
    await turns();
    await on.asked("edit").answer(done({ exactness: "live", shapes: null, needsFullSolve: [] }));
    expect(on.count("shapes")).toBe(0);
    await on.asked("edit").answer(done({ exactness: "live", shapes: null, needsFullSolve: [] }));
    expect(on.state().live).toMatchObject({ change: to(0.8), shapes: null });
    expect(on.asked("shapes").input).toEqual(to(0.8));
    await on.asked("shapes").answer(done({ count: 1 }));
    expect(on.state().live?.shapes).toEqual({ count: 1 });
    lookAway();
    on.deeds.drag(to(0.7));
    await turns();
    await on.asked("edit").answer(done({ exactness: "live", shapes: null, needsFullSolve: [] }));
    expect(on.count("shapes")).toBe(1);
  });

  it("has the shapes of what it moved brought when somebody comes to look", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await handed(on);
    on.deeds.drag(to(0.9));
    await turns();
    await on.asked("edit").answer(done({ exactness: "live", shapes: null, needsFullSolve: [] }));
    expect(on.count("shapes")).toBe(0);
    on.deeds.watchShapes();
    await turns();
    await on.asked("edit").answer(done({ exactness: "live", shapes: null, needsFullSolve: [] }));
    expect(on.asked("shapes").input).toEqual(to(0.9));
  });

  it("tries the levers once for whoever asks, having the model made first", async () => {
    const on = deskOnPaper();
    on.deeds.want("voice");
    on.deeds.follow("a");
    await turns();
    await on.asked("recallVoice").answer("known voice");
    const both = [on.deeds.levers(), on.deeds.levers()];
    await turns();
    await handed(on);
    await on.asked("levers").answer(["a step"]);
    expect(await Promise.all(both)).toEqual([["a step"], ["a step"]]);
    expect([on.count("prepare"), on.count("levers")]).toEqual([1, 1]);
  });

  it("leaves nothing behind when nothing was meant", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await handed(on);
    on.deeds.drag(to(0.9));
    await turns();
    on.deeds.letBe();
    await on.asked("edit").answer(done({ exactness: "live", needsFullSolve: [] }));
    expect(on.state().live).toBeNull();
  });

  it("stops making its model when that is cancelled", async () => {
    const on = deskOnPaper();
    await voiced(on, "a");
    await on.asked("basis").answer(done(true));
    on.deeds.cancel("hand");
    await turns();
    expect(on.ended).toEqual(["hand 1"]);
    expect(on.state().hand.status).toBe("cancelled");
  });
});
