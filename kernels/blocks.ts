import { blocksArtefact } from "./blocks.artefact.ts";
import { wasmModule } from "./wasm.ts";

/** Exports of kernels/assembly/blocks.ts; they are BlockKernels as they stand. */
export const blocksModule = wasmModule(blocksArtefact);
