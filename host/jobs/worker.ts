/** Entry of a Node worker thread: does the pipeline's jobs. */
import { parentPort } from "node:worker_threads";
import { stageJobs } from "#engine/pipeline";
import { wasmKernels } from "#kernels";
import type { ToWorker } from "./port.ts";
import { serveJobs } from "./serveJobs.ts";

const port = parentPort;
if (port === null) throw new Error("this file is the entry of a worker thread");
const work = serveJobs(stageJobs, wasmKernels, (message, transfer) => port.postMessage(message, transfer));
port.on("message", (message: ToWorker) => work(message));
