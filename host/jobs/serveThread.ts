import type { MessagePort } from "node:worker_threads";
import type { KernelSource } from "#engine/numerics";
import type { JobTable } from "#engine/pipeline";
import type { ToWorker } from "./port.ts";
import { serveJobs } from "./serveJobs.ts";

/** Does jobs for whoever started this Node thread; `port`: the thread's parentPort. */
export function serveThread(port: MessagePort | null, jobs: JobTable, kernels: KernelSource): void {
  if (port === null) throw new Error("this file is the entry of a worker thread");
  const work = serveJobs(jobs, kernels, (message) => port.postMessage(message));
  port.on("message", (message: ToWorker) => work(message));
}
