/** Kernels in WebAssembly SIMD, for whoever starts a computation to inject; the engine does not know them. */
import { type KernelSource, type Kernels, kernelMemory } from "#engine/numerics";
import { blocksModule } from "./blocks.ts";
import { complexLuModule } from "./complexLu.ts";
import { denseEigenModule } from "./denseEigen.ts";
import { frontsModule } from "./fronts.ts";
import { rateModule } from "./rate.ts";
import { solvesModule } from "./solves.ts";
import { wasmExports, wasmMemory } from "./wasm.ts";
import { wavePairsModule } from "./wavePairs.ts";

/** Below this the modules may keep constants of their own. */
const reserved = 1024;

/** Kernels in a WebAssembly memory of their own with room for so many doubles (at most 4 GB in all). */
export const wasmKernels: KernelSource = (doubles) => {
  const memory = wasmMemory(doubles + reserved + 2);
  return {
    ...kernelMemory(memory.buffer, reserved),
    name: "wasm",
    rate: wasmExports<Kernels["rate"]>(rateModule, memory),
    fronts: wasmExports<Kernels["fronts"]>(frontsModule, memory),
    solves: wasmExports<Kernels["solves"]>(solvesModule, memory),
    blocks: wasmExports<Kernels["blocks"]>(blocksModule, memory),
    complexLu: wasmExports<Kernels["complexLu"]>(complexLuModule, memory),
    denseEigen: wasmExports<Kernels["denseEigen"]>(denseEigenModule, memory),
    wavePairs: wasmExports<Kernels["wavePairs"]>(wavePairsModule, memory),
  };
};
