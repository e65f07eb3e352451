// The yardstick: the very loop the dense kernels are made of, on data in the fastest cache.
// Twin and explanation: engine/numerics/kernels/rate.ts.
import { tile } from "./shared/tile";

export function multiplyAdd(a: usize, b: usize, depth: i32, c: usize, rounds: i32): void {
  for (let r = 0; r < rounds; r++) tile(a << 3, b << 3, depth, c << 3);
}
