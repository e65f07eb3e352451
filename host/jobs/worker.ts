/** Entry of a Node worker thread: does the pipeline's jobs. */
import { parentPort } from "node:worker_threads";
import { stageJobs } from "#engine/pipeline";
import { wasmKernels } from "#kernels";
import { serveThread } from "./serveThread.ts";

serveThread(parentPort, stageJobs, wasmKernels);
