import type { BattenAnswer, BattenAsk } from "./battenTalk.ts";

/** Hands asks to the batten's worker one at a time; of those that come meanwhile only the newest is kept. */
export interface Batten {
  /** `told` is called for every part of the answer; never, if a newer ask overtook this one. */
  ask(ask: BattenAsk, told: (answer: BattenAnswer["answer"], last: boolean) => void): void;
  /** Forgets what is asked and not answered. */
  drop(): void;
}

type Told = (answer: BattenAnswer["answer"], last: boolean) => void;

export interface Port {
  postMessage(message: { readonly id: number; readonly ask: BattenAsk }): void;
  listen(heard: (answer: BattenAnswer) => void): void;
}

export function makeBatten(hire: () => Port): Batten {
  let port: Port | null = null;
  let count = 0;
  let current: { readonly id: number; readonly told: Told; answered: boolean } | null = null;
  let waiting: { readonly ask: BattenAsk; readonly told: Told } | null = null;

  const send = (ask: BattenAsk, told: Told): void => {
    current = { id: ++count, told, answered: false };
    port?.postMessage({ id: count, ask });
  };
  const heard = ({ id, last, answer }: BattenAnswer): void => {
    if (current === null || id !== current.id) return;
    current.told(answer, last);
    current.answered = true;
    const next = waiting;
    waiting = null;
    // the first part shows the curve; a newer place of the hand need not wait for the figures of the older one
    if (next !== null) send(next.ask, next.told);
    else if (last) current = null;
  };
  return {
    ask: (ask, told) => {
      if (port === null) {
        port = hire();
        port.listen(heard);
      }
      if (current !== null && !current.answered) waiting = { ask, told };
      else send(ask, told);
    },
    drop: () => {
      current = null;
      waiting = null;
    },
  };
}

/** The page's own. */
export const batten = makeBatten(() => {
  const worker = new Worker(new URL("./battenWorker.ts", import.meta.url), {
    type: "module",
    name: "batten",
  });
  return {
    postMessage: (message) => worker.postMessage(message),
    listen: (heard) => worker.addEventListener("message", ({ data }) => heard(data)),
  };
});
