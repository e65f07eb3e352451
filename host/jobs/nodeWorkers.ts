import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { JobTable } from "#engine/pipeline";
import type { FromWorker, ToWorker, WorkerPort } from "./port.ts";
import { type WorkerCrew, workerCrew } from "./workerCrew.ts";

/** Where a worker begins: from the sources through a small starter, from a bundle in the file beside this one. */
const fromSources = import.meta.url.endsWith(".ts");
const entry = new URL(fromSources ? "./startWorker.mjs" : "./worker.mjs", import.meta.url);

/** One Node thread. */
function nodeWorker(at: URL): WorkerPort {
  const worker = new Worker(at);
  worker.unref();
  return {
    post: (message: ToWorker) => {
      worker.ref();
      worker.postMessage(message);
    },
    listen: (hear) => {
      worker.on("message", (message: FromWorker) => {
        // an idle worker keeps no process alive
        if (message.says !== "progress") worker.unref();
        hear(message, "");
      });
      worker.on("error", (error) => hear(null, error instanceof Error ? error.message : String(error)));
      worker.on("exit", (code) => hear(null, `exit status ${code}`));
    },
    end: () => {
      void worker.terminate();
    },
  };
}

/** Node threads, as many as the machine runs side by side unless told. `at`: another entry than the pipeline's. */
export function nodeCrew<T extends JobTable>(
  hands = Math.min(4, availableParallelism()),
  at: URL = entry,
): WorkerCrew<T> {
  return workerCrew<T>(() => nodeWorker(at), hands, true);
}
