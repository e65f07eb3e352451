import type { Duties, DutyAnswer, DutyInput, DutyKind, FromDesk, ToDesk } from "./wire.ts";

/** What a page's Worker is to us. */
export interface DeskWorker {
  postMessage(message: unknown, transfer?: Transferable[]): void;
  terminate(): void;
  onmessage: ((event: MessageEvent) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

/** A question under way. */
export interface Asked<A> {
  /** Rejects with what went wrong: the worker threw, or was dismissed. */
  readonly answer: Promise<A>;
  /** It is not wanted any more: it ends as soon as the worker hears of it. */
  callOff(): void;
}

export interface AskOptions {
  readonly told?: (fraction: number, words: string) => void;
  readonly transfer?: Transferable[];
}

/** A worker that answers questions. */
export interface Line<D extends Duties> {
  ask<K extends DutyKind<D>>(kind: K, input: DutyInput<D, K>, options?: AskOptions): Asked<DutyAnswer<D, K>>;
  /** Whether the worker is no more: it was dismissed, it broke down, or its file could not be had. */
  readonly ended: boolean;
  /** Ends the worker; what it had not answered rejects. */
  close(): void;
}

interface Open {
  readonly settle: (value: unknown) => void;
  readonly fail: (error: Error) => void;
  readonly told: ((fraction: number, words: string) => void) | undefined;
}

/** `sharing`: whether memory can be shared with workers (crossOriginIsolated). */
export function line<D extends Duties>(worker: DeskWorker, sharing: boolean): Line<D> {
  const open = new Map<number, Open>();
  let asks = 0;
  let closed: string | null = null;
  const failAll = (why: string): void => {
    closed = why;
    for (const { fail } of open.values()) fail(new Error(why));
    open.clear();
  };
  worker.onmessage = ({ data }) => {
    const message = data as FromDesk;
    const asked = open.get(message.ask);
    if (asked === undefined) return;
    if (message.says === "progress") {
      asked.told?.(message.fraction, message.words);
      return;
    }
    open.delete(message.ask);
    if (message.says === "answer") asked.settle(message.value);
    else asked.fail(new Error(message.fault));
  };
  worker.onerror = ({ message }) => failAll(`the worker ended: ${message}`);
  const post = (message: ToDesk, transfer?: Transferable[]): void => worker.postMessage(message, transfer);
  return {
    ask: (kind, input, { told, transfer } = {}) => {
      const ask = ++asks;
      const callOff = sharing ? new Int32Array(new SharedArrayBuffer(4)) : null;
      const answer = new Promise<unknown>((settle, fail) => {
        if (closed !== null) {
          fail(new Error(closed));
          return;
        }
        open.set(ask, { settle, fail, told });
        post({ ask, kind, input, callOff }, transfer);
      });
      return {
        answer: answer as Promise<never>,
        callOff: () => {
          if (!open.has(ask)) return;
          if (callOff !== null) Atomics.store(callOff, 0, 1);
          post({ callOff: ask });
        },
      };
    },
    get ended() {
      return closed !== null;
    },
    close: () => {
      worker.terminate();
      failAll("the worker was dismissed");
    },
  };
}
