import type { Context, KernelSource } from "#engine/numerics";
import type { JobTable } from "#engine/pipeline";
import { packed } from "./packed.ts";
import type { FromWorker, ToWorker } from "./port.ts";

/** Least gap between two reports of progress, ms: the crew draws no faster. */
const reportGap = 50;

/** The worker's side: does the jobs it is sent, one after the other. Returns what to call with each message. */
export function serveJobs(
  jobs: JobTable,
  kernels: KernelSource,
  send: (message: FromWorker) => void,
): (message: ToWorker) => void {
  return ({ job, kind, input, callOff }) => {
    let last = 0;
    const ctx: Context = {
      kernels,
      progress: (fraction) => {
        const now = Date.now();
        if (now - last < reportGap) return;
        last = now;
        send({ job, says: "progress", fraction });
      },
      cancelled: () => callOff !== null && Atomics.load(callOff, 0) !== 0,
    };
    try {
      const work = jobs[kind];
      if (work === undefined) throw new Error(`no job is called "${kind}"`);
      send({ job, says: "outcome", outcome: packed(work(input as never, ctx), callOff !== null) });
    } catch (error) {
      send({
        job,
        says: "thrown",
        error: error instanceof Error ? (error.stack ?? error.message) : String(error),
      });
    }
  };
}
