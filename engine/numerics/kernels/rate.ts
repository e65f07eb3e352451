/** The yardstick: a register-blocked multiply-add loop on data in the fastest cache. */
import type { KernelMemory } from "./kernelMemory.ts";

export interface RateKernels {
  /**
   * c := c - sum over k of a[k] b[k]', 4 x 4 (column by column), `rounds` times over. a and b: places of `depth` columns
   * of four. 32 depth rounds operations. What a factorisation can at best reach.
   */
  multiplyAdd(a: number, b: number, depth: number, c: number, rounds: number): void;
}

export function typescriptRate({ numbers: x }: KernelMemory): RateKernels {
  return {
    multiplyAdd(a, b, depth, c, rounds) {
      for (let round = 0; round < rounds; round++) {
        for (let k = 0; k < 4 * depth; k += 4) {
          for (let j = 0; j < 4; j++) {
            const y = x[b + k + j];
            for (let i = 0; i < 4; i++) x[c + 4 * j + i] -= x[a + k + i] * y;
          }
        }
      }
    },
  };
}
