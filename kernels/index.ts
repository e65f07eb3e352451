/** Kernels in WebAssembly SIMD, for whoever starts a computation to inject; the engine does not know them. */
import { type KernelSource, type Kernels, kernelMemory } from "#engine/numerics";
import { rateModule } from "./rate.ts";
import { wasmExports, wasmMemory } from "./wasm.ts";

/** Below this the modules may keep constants of their own. */
const reserved = 1024;

/** Kernels in a WebAssembly memory of their own with room for so many doubles (at most 4 GB in all). */
export const wasmKernels: KernelSource = (doubles) => {
  const memory = wasmMemory(doubles + reserved + 2);
  return {
    ...kernelMemory(memory.buffer, reserved),
    name: "wasm",
    rate: wasmExports<Kernels["rate"]>(rateModule, memory),
  };
};
