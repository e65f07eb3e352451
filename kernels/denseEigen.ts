import { denseEigenArtefact } from "./denseEigen.artefact.ts";
import { wasmModule } from "./wasm.ts";

/** Exports of kernels/assembly/denseEigen.ts; they are DenseEigenKernels as they stand. */
export const denseEigenModule = wasmModule(denseEigenArtefact);
