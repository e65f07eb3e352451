/** Entry of a page's worker that does the contract's jobs. */
import { wasmKernels } from "#kernels";
import { contractJobs } from "./contractJobs.fixture.ts";
import { servePage } from "./servePage.ts";

servePage(contractJobs, wasmKernels);
