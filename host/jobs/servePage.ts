import type { KernelSource } from "#engine/numerics";
import type { JobTable } from "#engine/pipeline";
import type { ToWorker } from "./port.ts";
import { serveJobs } from "./serveJobs.ts";

/** What a page's worker finds as its own global scope. */
interface WorkerScope {
  postMessage(message: unknown): void;
  onmessage: ((event: { readonly data: unknown }) => void) | null;
}

/** Does jobs for the page that started this worker. */
export function servePage(jobs: JobTable, kernels: KernelSource): void {
  const scope = globalThis as unknown as WorkerScope;
  const work = serveJobs(jobs, kernels, (message) => scope.postMessage(message));
  scope.onmessage = ({ data }) => work(data as ToWorker);
}
