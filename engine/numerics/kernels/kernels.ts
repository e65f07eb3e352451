/**
 * Dense kernels, injected: one interface, a TypeScript twin here and a WebAssembly SIMD twin in the folder kernels/.
 *
 * To add a kernel file `name`: its interface and TypeScript twin in engine/numerics/kernels/name.ts, its AssemblyScript in
 * kernels/assembly/name.ts, its face in kernels/name.ts, one line in this record, in typescriptKernels and in
 * kernels/index.ts; then `npm run kernels`, and commit kernels/name.artefact.ts with it.
 */

import { type BlockKernels, typescriptBlocks } from "./blocks.ts";
import { type ComplexLuKernels, typescriptComplexLu } from "./complexLu.ts";
import { type DenseEigenKernels, typescriptDenseEigen } from "./denseEigen.ts";
import { type FrontKernels, typescriptFronts } from "./fronts.ts";
import { type KernelMemory, kernelMemory } from "./kernelMemory.ts";
import { type RateKernels, typescriptRate } from "./rate.ts";
import { type SolveKernels, typescriptSolves } from "./solves.ts";
import { typescriptWavePairs, type WavePairsKernels } from "./wavePairs.ts";

export interface Kernels extends KernelMemory {
  /** Which twin runs; results carry it on. */
  readonly name: "wasm" | "typescript";
  readonly rate: RateKernels;
  readonly fronts: FrontKernels;
  readonly solves: SolveKernels;
  readonly blocks: BlockKernels;
  readonly complexLu: ComplexLuKernels;
  readonly denseEigen: DenseEigenKernels;
  readonly wavePairs: WavePairsKernels;
}

/**
 * Makes kernels with room for so many doubles. A wasm memory never grows (growing detaches views): ask for what the
 * symbolic analysis says.
 */
export type KernelSource = (doubles: number) => Kernels;

/** The plain twin: works everywhere, three to six times slower. */
export const typescriptKernels: KernelSource = (doubles) => {
  const memory = kernelMemory(new ArrayBuffer(8 * (doubles + 2)), 0);
  return {
    ...memory,
    name: "typescript",
    rate: typescriptRate(memory),
    fronts: typescriptFronts(memory),
    solves: typescriptSolves(memory),
    blocks: typescriptBlocks(memory),
    complexLu: typescriptComplexLu(memory),
    denseEigen: typescriptDenseEigen(memory),
    wavePairs: typescriptWavePairs(memory),
  };
};
