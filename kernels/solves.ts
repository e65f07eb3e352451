import { solvesArtefact } from "./solves.artefact.ts";
import { wasmModule } from "./wasm.ts";

/** Exports of kernels/assembly/solves.ts; they are SolveKernels as they stand. */
export const solvesModule = wasmModule(solvesArtefact);
