import { frontsArtefact } from "./fronts.artefact.ts";
import { wasmModule } from "./wasm.ts";

/** Exports of kernels/assembly/fronts.ts; they are FrontKernels as they stand. */
export const frontsModule = wasmModule(frontsArtefact);
