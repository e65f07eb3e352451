/** A page that goes through the contract with its own workers and sends home what it found. */
import { browserCrew, type PageWorker } from "./browserWorkers.ts";
import type { contractJobs } from "./contractJobs.fixture.ts";
import { crewContract } from "./crew.contract.ts";

declare const Worker: new (url: string) => PageWorker;
declare const crossOriginIsolated: boolean;

const found: { readonly title: string; readonly fault: string | null }[] = [];
for (const sharing of crossOriginIsolated ? [true, false] : [false]) {
  const crew = browserCrew<typeof contractJobs>(() => new Worker("worker.js"), 2, sharing);
  for (const { title, fault } of crewContract(true)) {
    const name = `${sharing ? "shared flag" : "worker ended"}: ${title}`;
    found.push({
      title: name,
      fault: await fault(crew).catch((error: Error) => `threw ${error.message}`),
    });
  }
  crew.close();
}
await fetch("found", { method: "POST", body: JSON.stringify(found) });
