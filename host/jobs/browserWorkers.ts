import type { JobTable } from "#engine/pipeline";
import type { FromWorker, WorkerPort } from "./port.ts";
import { type WorkerCrew, workerCrew } from "./workerCrew.ts";

/** What a page's Worker is to us. */
export interface PageWorker {
  postMessage(message: unknown): void;
  terminate(): void;
  onmessage: ((event: { readonly data: unknown }) => void) | null;
  onerror: ((event: { readonly message: string }) => void) | null;
}

export function pageWorker(worker: PageWorker): WorkerPort {
  return {
    post: (message) => worker.postMessage(message),
    listen: (hear) => {
      worker.onmessage = ({ data }) => hear(data as FromWorker, "");
      worker.onerror = ({ message }) => hear(null, message);
    },
    end: () => worker.terminate(),
  };
}

/** A page's workers. `sharing`: crossOriginIsolated of the page. */
export function browserCrew<T extends JobTable>(
  hire: () => PageWorker,
  hands: number,
  sharing: boolean,
): WorkerCrew<T> {
  return workerCrew<T>(() => pageWorker(hire()), hands, sharing);
}
