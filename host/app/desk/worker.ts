/** Entry of the desk's workers that need finite elements; the name of each says what it is there for. */
import { stageJobs } from "#engine/pipeline";
import { wasmKernels } from "#kernels";
import type { PageWorker } from "../../jobs/browserWorkers.ts";
import { servePage } from "../../jobs/servePage.ts";
import { handDuties } from "./handDuties.ts";
import { heavyDuties } from "./heavyDuties.ts";
import { serverResults } from "./resultStore.ts";
import { type DeskScope, serveLine } from "./serveLine.ts";

const scope = globalThis as unknown as DeskScope;
const { href } = scope.location;

if (scope.name === "desk-hand") serveLine(handDuties(), scope);
else if (scope.name === "desk-heavy") {
  // the built file's name holds the hash of all that it computes with
  const store = serverResults(new URL(href).pathname, crypto.randomUUID());
  const hire = (): PageWorker => new Worker(href, { type: "module", name: "desk-stage" }) as PageWorker;
  const hands = Math.max(2, Math.min(4, navigator.hardwareConcurrency - 1));
  serveLine(heavyDuties(hire, hands, scope.crossOriginIsolated, store), scope);
} else servePage(stageJobs, wasmKernels);
