import { rateArtefact } from "./rate.artefact.ts";
import { wasmModule } from "./wasm.ts";

/** Exports of kernels/assembly/rate.ts; they are RateKernels as they stand. */
export const rateModule = wasmModule(rateArtefact);
