import { wasmModule } from "./wasm.ts";
import { wavePairsArtefact } from "./wavePairs.artefact.ts";

/** Exports of kernels/assembly/wavePairs.ts as they stand. */
export const wavePairsModule = wasmModule(wavePairsArtefact);
