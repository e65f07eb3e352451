import { describe, expect, it } from "vitest";
import { type KernelSource, placeOf, typescriptKernels } from "#engine/numerics";
import { wasmKernels } from "./index.ts";

function tileBy(source: KernelSource, depth: number): { name: string; tile: number[] } {
  const kernels = source(8 * depth + 16);
  const [a, b, c] = [4 * depth, 4 * depth, 16].map((size) => kernels.allocate(size));
  for (let i = 0; i < a.length; i++) {
    a[i] = Math.sin(1 + i);
    b[i] = Math.cos(2 + i);
  }
  c.fill(0.5);
  kernels.rate.multiplyAdd(placeOf(a), placeOf(b), depth, placeOf(c), 2);
  return { name: kernels.name, tile: [...c] };
}

describe("multiplyAdd", () => {
  it("subtracts the outer product column by column, by either twin", () => {
    const wasm = tileBy(wasmKernels, 7);
    const plain = tileBy(typescriptKernels, 7);
    expect([wasm.name, plain.name]).toEqual(["wasm", "typescript"]);
    const wanted = Array.from({ length: 16 }, (_, e) => {
      let sum = 0;
      for (let k = 0; k < 7; k++) sum += Math.sin(1 + 4 * k + (e & 3)) * Math.cos(2 + 4 * k + (e >> 2));
      return 0.5 - 2 * sum;
    });
    for (const tile of [wasm.tile, plain.tile])
      tile.forEach((v, e) => {
        expect(v).toBeCloseTo(wanted[e]!, 13);
      });
  });
});
