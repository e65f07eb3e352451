import { blockDoubles } from "../sparse/solveFactored.ts";

/** So many blocks of four vectors are formed in one reading of the basis. */
export const together = 8;

/** Doubles ritzVectors needs in the kernels' memory, beyond what the iteration took. */
export function ritzDoubles(size: number, largestBasis: number): number {
  return together * (blockDoubles(size) + 4 * (largestBasis + 8)) + 3 * blockDoubles(size);
}
