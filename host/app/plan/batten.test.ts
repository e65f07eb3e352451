import { describe, expect, it } from "vitest";
import { makeBatten } from "./batten.ts";
import type { BattenAnswer, BattenAsk } from "./battenTalk.ts";

/** A worker that answers when it is told to. */
function slowWorker() {
  const sent: { readonly id: number; readonly ask: BattenAsk }[] = [];
  let heard: (answer: BattenAnswer) => void = () => {};
  const batten = makeBatten(() => ({
    postMessage: (message) => sent.push(message),
    listen: (listener) => {
      heard = listener;
    },
  }));
  const refused = { ok: false, reason: "no-fair-curve", detail: "" } as const;
  return {
    batten,
    sent,
    answer: (at: number, last: boolean) => heard({ id: sent[at]!.id, last, answer: refused }),
  };
}

const ask = (x: number): BattenAsk => ({
  kind: "hole",
  weights: [{ at: [x, 0], heading: null, held: false }],
});

describe("the batten's worker", () => {
  it("is asked one thing at a time, and of what came meanwhile only the newest", () => {
    const { batten, sent, answer } = slowWorker();
    const told: number[] = [];
    for (const x of [1, 2, 3, 4]) batten.ask(ask(x), () => told.push(x));
    expect(sent).toHaveLength(1);
    answer(0, true);
    expect(sent.map((s) => s.ask)).toEqual([ask(1), ask(4)]);
    answer(1, true);
    expect(told).toEqual([1, 4]);
  });

  it("does not wait for the figures of an older place once its curve is there", () => {
    const { batten, sent, answer } = slowWorker();
    const told: string[] = [];
    batten.ask(ask(1), (_, last) => told.push(last ? "first, figures" : "first, curve"));
    answer(0, false);
    batten.ask(ask(2), () => told.push("second"));
    expect(sent).toHaveLength(2);
    // comes late: another place is under the hand
    answer(0, true);
    answer(1, true);
    expect(told).toEqual(["first, curve", "second"]);
  });

  it("tells nothing of what was dropped", () => {
    const { batten, answer } = slowWorker();
    let told = 0;
    batten.ask(ask(1), () => told++);
    batten.ask(ask(2), () => told++);
    batten.drop();
    answer(0, true);
    expect(told).toBe(0);
  });
});
