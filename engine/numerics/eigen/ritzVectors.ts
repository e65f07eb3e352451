/** From the Lanczos space back to vectors of full length. */
import { placeOf } from "../kernels/kernelMemory.ts";
import { blockDoubles, solveBlocks } from "../sparse/solveFactored.ts";
import type { LanczosSpace } from "./blockLanczos.ts";
import type { Pencil } from "./pencil.ts";
import { multiplyPlaced } from "./placedMatrix.ts";
import { together } from "./ritzDoubles.ts";

/** Above this residual a vector is put through the inverse once more. */
const doubtful = 1e-6;

/**
 * Ritz vectors x = Q s + Q_next R s_last / theta, which is A Q s / theta. This one free application of A removes what
 * rounding has put into the null space of a singular M, and sharpens the vector. Source: Nour-Omid, Parlett, Ericsson
 * and Jensen, Math. Comp. 48 (1987) 663.
 *
 * s: eigenvectors of T, vector after vector; picked: which of them; theta: their values; lambda: those of K and M,
 * corrected IN PLACE to Rayleigh's quotient (near the shift one value may be so large that it costs the others digits). Returns vectors count x n in the order of the unknowns, x' M x = 1, and their residuals
 * |K x - lambda M x| / |(lambda + offset) M x| in the plain norm, offset >= 0 for motions with lambda = 0.
 */
export function ritzVectors(
  p: Pencil,
  space: LanczosSpace,
  s: Float64Array,
  picked: readonly number[],
  theta: Float64Array,
  lambda: Float64Array,
  offset: number,
): { readonly vectors: Float64Array; readonly residuals: Float64Array } {
  const { kernels, room, n, mass } = p;
  const { numbers } = kernels;
  const { size: rows } = room.partition;
  const count = picked.length;
  const stride = blockDoubles(rows);
  const mark = kernels.mark();
  const x = placeOf(kernels.allocate(together * stride));
  const c = placeOf(kernels.allocate(16 * space.blocks * together));
  const checker = residualChecker(p, offset);
  const vectors = new Float64Array(count * n);
  const residuals = new Float64Array(count);
  for (let first = 0; first < count; first += 4 * together) {
    const blocks = Math.min(together, Math.ceil((count - first) / 4));
    numbers.fill(0, x, x + together * stride);
    for (let b = 0; b < blocks; b++)
      coefficients(p, space, s, picked, theta, first + 4 * b, c + 16 * b * space.blocks);
    kernels.blocks.subtract(space.basis, stride, space.blocks, c, x, stride, blocks, rows);
    for (let b = 0; b < blocks; b++) {
      const own = x + b * stride;
      const from = first + 4 * b;
      const width = Math.min(4, count - from);
      const before = lambda.slice(from, from + width);
      let worst = checker(own, lambda, from, width, vectors, residuals);
      if (worst <= doubtful) continue;
      // Once more through the inverse, from the values as they were: Rayleigh's quotient of a bad vector spoils them.
      lambda.set(before, from);
      const mx = placeOf(kernels.allocate(stride));
      multiplyPlaced(kernels, mass, own, mx);
      solveBlocks(room, mx, 0, 1);
      worst = checker(mx, lambda, from, width, vectors, residuals);
      kernels.release(mx);
    }
  }
  kernels.release(mark);
  return { vectors, residuals };
}

/** Minus the coefficients of four Ritz vectors, 4 x 4 for each block of the basis, as BlockKernels.subtract takes them. */
function coefficients(
  { kernels: { numbers } }: Pencil,
  space: LanczosSpace,
  s: Float64Array,
  picked: readonly number[],
  theta: Float64Array,
  first: number,
  to: number,
): void {
  const { size, coupling } = space;
  numbers.fill(0, to, to + 16 * space.blocks);
  for (let z = 0; z < Math.min(4, picked.length - first); z++) {
    const from = picked[first + z] * size;
    for (let i = 0; i < size; i++) numbers[to + 4 * i + z] = -s[from + i];
    if (4 * space.blocks === size) continue;
    for (let i = 0; i < 4; i++) {
      let sum = 0;
      for (let j = i; j < 4; j++) sum += coupling[4 * i + j] * s[from + size - 4 + j];
      numbers[to + 4 * (size + i) + z] = -sum / theta[first + z];
    }
  }
}

/**
 * Writes the vectors of one block to their rows of `vectors`, in the order of the unknowns and scaled to x' M x = 1, and
 * their residuals; returns the largest of these.
 */
function residualChecker(
  p: Pencil,
  offset: number,
): (
  block: number,
  lambda: Float64Array,
  first: number,
  width: number,
  vectors: Float64Array,
  residuals: Float64Array,
) => number {
  const { kernels, n, stiffness, mass, room } = p;
  const { numbers } = kernels;
  const { positionOf, size } = room.partition;
  const kx = placeOf(kernels.allocate(4 * size));
  const mx = placeOf(kernels.allocate(4 * size));
  return (x, lambda, first, width, vectors, residuals) => {
    multiplyPlaced(kernels, mass, x, mx);
    multiplyPlaced(kernels, stiffness, x, kx);
    let worst = 0;
    for (let c = 0; c < width; c++) {
      const value = lambda[first + c];
      let modal = 0;
      let residual = 0;
      let force = 0;
      let work = 0;
      let along = 0;
      for (let i = c; i < 4 * size; i += 4) {
        const f = numbers[mx + i];
        const gap = numbers[kx + i] - value * f;
        modal += numbers[x + i] * f;
        residual += gap * gap;
        force += f * f;
        work += numbers[x + i] * gap;
        along += f * gap;
      }
      const better = work / modal; // to Rayleigh's quotient
      lambda[first + c] = value + better;
      const rest = Math.max(0, residual - 2 * better * along + better * better * force);
      residuals[first + c] = Math.sqrt(rest / force) / (lambda[first + c] + offset);
      worst = Math.max(worst, residuals[first + c]);
      const scale = 1 / Math.sqrt(modal);
      const at = (first + c) * n;
      for (let i = 0; i < n; i++) vectors[at + i] = numbers[x + 4 * positionOf[i] + c] * scale;
    }
    return worst;
  };
}
