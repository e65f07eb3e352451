import { type Context, failed, type Outcome } from "#engine/numerics";
import type { Crew, JobTable } from "#engine/pipeline";
import type { FromWorker, WorkerPort } from "./port.ts";

/** How often a running job's caller is asked whether it is still wanted, ms. */
const askGap = 20;

interface Waiting {
  readonly kind: string;
  readonly input: unknown;
  readonly ctx: Context;
  readonly lane: number | undefined;
  readonly settle: (outcome: Outcome<unknown>) => void;
  readonly fail: (error: Error) => void;
}

interface Hand {
  readonly index: number;
  /** null: not hired, or died; hired when there is work, so that one that cannot start is not tried for ever. */
  port: WorkerPort | null;
  busy: {
    readonly job: number;
    readonly waiting: Waiting;
    readonly ask: ReturnType<typeof setInterval>;
  } | null;
}

/** A crew that must be dismissed when the work is over. */
export interface WorkerCrew<T extends JobTable> extends Crew<T> {
  close(): void;
}

/**
 * So many workers, each doing one job at a time; jobs wait in the order they come, those with a lane for their own hand. A job that is called off ends with
 * "cancelled": by a flag in shared memory where there is any, else by ending its worker. A worker that has thrown is
 * never used again: whatever it left half done goes with it. `sharing`: whether memory can be shared with workers.
 */
export function workerCrew<T extends JobTable>(
  hire: () => WorkerPort,
  hands: number,
  sharing: boolean,
): WorkerCrew<T> {
  const queue: Waiting[] = [];
  const crew: Hand[] = [];
  let jobs = 0;
  let closed = false;

  const release = (hand: Hand): Waiting | null => {
    if (hand.busy === null) return null;
    clearInterval(hand.busy.ask);
    const { waiting } = hand.busy;
    hand.busy = null;
    return waiting;
  };
  const engage = (hand: Hand): WorkerPort => {
    const port = hire();
    hand.port = port;
    port.listen((message, reason) => hear(hand, port, message, reason));
    return port;
  };
  const dismiss = (hand: Hand): void => {
    hand.port?.end();
    hand.port = null;
  };
  const hear = (hand: Hand, port: WorkerPort, message: FromWorker | null, reason: string): void => {
    if (closed || port !== hand.port) return;
    if (message !== null && message.job !== hand.busy?.job) return;
    if (message?.says === "progress") {
      hand.busy?.waiting.ctx.progress(message.fraction);
      return;
    }
    const waiting = release(hand);
    if (message?.says === "outcome") {
      waiting?.settle(message.outcome as Outcome<unknown>);
    } else {
      dismiss(hand);
      if (message !== null) engage(hand);
      waiting?.fail(new Error(message?.says === "thrown" ? message.error : `the worker ended: ${reason}`));
    }
    next();
  };
  const start = (hand: Hand, waiting: Waiting): void => {
    const job = ++jobs;
    const callOff = sharing ? new Int32Array(new SharedArrayBuffer(4)) : null;
    const ask = setInterval(() => {
      if (!waiting.ctx.cancelled()) return;
      if (callOff !== null) {
        Atomics.store(callOff, 0, 1);
        return;
      }
      release(hand);
      dismiss(hand);
      engage(hand);
      waiting.settle(failed("cancelled", `"${waiting.kind}" was called off`));
      next();
    }, askGap);
    hand.busy = { job, waiting, ask };
    (hand.port ?? engage(hand)).post({ job, kind: waiting.kind, input: waiting.input, callOff });
  };
  /** Takes the first job out of the queue that this hand may do. */
  const taken = ({ index }: Hand): Waiting | undefined => {
    const at = queue.findIndex(({ lane }) => lane === undefined || lane % hands === index);
    return at < 0 ? undefined : queue.splice(at, 1)[0];
  };
  const next = (): void => {
    for (const hand of crew) {
      if (hand.busy !== null) continue;
      const waiting = taken(hand);
      if (waiting === undefined) continue;
      if (waiting.ctx.cancelled()) {
        waiting.settle(failed("cancelled", `"${waiting.kind}" was called off before it began`));
        next();
        return;
      }
      start(hand, waiting);
    }
  };
  for (let index = 0; index < hands; index++) {
    const hand: Hand = { index, port: null, busy: null };
    engage(hand);
    crew.push(hand);
  }
  return {
    hands,
    run: (kind, input, ctx, lane) =>
      new Promise((settle, fail) => {
        if (closed) {
          fail(new Error("the crew was dismissed"));
          return;
        }
        const heard = settle as (outcome: Outcome<unknown>) => void;
        queue.push({ kind, input, ctx, lane, settle: heard, fail });
        next();
      }),
    close: () => {
      closed = true;
      for (const hand of crew) {
        release(hand)?.fail(new Error("the crew was dismissed"));
        dismiss(hand);
      }
      for (const waiting of queue.splice(0)) waiting.fail(new Error("the crew was dismissed"));
    },
  };
}
