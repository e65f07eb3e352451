import { complexLuArtefact } from "./complexLu.artefact.ts";
import { wasmModule } from "./wasm.ts";

/** Exports of kernels/assembly/complexLu.ts as they stand. */
export const complexLuModule = wasmModule(complexLuArtefact);
