/** The one buffer that a set of kernels works in, handed out as a stack. */
import { invariant } from "../invariant.ts";

/**
 * PLACES are indices into `numbers` (in doubles) or `indices` (in 32-bit integers); both look at the same bytes. A kernel
 * takes places, so that its wasm and its TypeScript twin have one signature and nothing is copied between them.
 */
export interface KernelMemory {
  readonly numbers: Float64Array;
  readonly indices: Int32Array;
  /** Zeroed room for so many doubles, at an even place (16 bytes). Throws when the memory is used up. */
  allocate(length: number): Float64Array;
  /** Zeroed room for so many 32-bit integers, starting at an even place in doubles. */
  allocateIndices(length: number): Int32Array;
  /** Everything allocated after a mark is given back by releasing it; views on it must not be used again. */
  mark(): number;
  release(mark: number): void;
}

/** buffer: zeroed; the first `reserved` doubles are never handed out. */
export function kernelMemory(buffer: ArrayBuffer, reserved: number): KernelMemory {
  const numbers = new Float64Array(buffer);
  const indices = new Int32Array(buffer);
  let top = reserved + (reserved & 1);
  let used = top; // beyond this the buffer has never been written
  const take = (doubles: number): number => {
    const at = top;
    const end = at + doubles + (doubles & 1);
    invariant(end <= numbers.length, () => `kernel memory of ${numbers.length} doubles, ${end} asked for`);
    if (at < used) numbers.fill(0, at, Math.min(end, used));
    top = end;
    used = Math.max(used, end);
    return at;
  };
  return {
    numbers,
    indices,
    allocate: (length) => {
      const at = take(length);
      return numbers.subarray(at, at + length);
    },
    allocateIndices: (length) => {
      const at = 2 * take((length + 1) >> 1);
      return indices.subarray(at, at + length);
    },
    mark: () => top,
    release: (mark) => {
      invariant(mark <= top, () => `released ${mark} above ${top}`);
      top = mark;
    },
  };
}

/** Place of a view that was allocated from a kernel memory. */
export function placeOf(view: Float64Array | Int32Array): number {
  return view.byteOffset / view.BYTES_PER_ELEMENT;
}
