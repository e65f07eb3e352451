/** Entry of a Node thread that does the contract's jobs. */
import { parentPort } from "node:worker_threads";
import { wasmKernels } from "#kernels";
import { contractJobs } from "./contractJobs.fixture.ts";
import { serveThread } from "./serveThread.ts";

serveThread(parentPort, contractJobs, wasmKernels);
