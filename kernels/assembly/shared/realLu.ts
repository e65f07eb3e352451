// The real factors of engine/numerics/kernels/complexLu.ts, row by row. Places come in doubles, are bytes inside.
import { block, swapRows } from "./pivoting";
import { addProduct } from "./rowProduct";

/** Row at c minus f times row at u, `length` numbers. Bytes. */
function takeReal(f: f64, u: usize, c: usize, length: usize): void {
  const v = f64x2.splat(f);
  const even = (length & ~1) << 3;
  let o: usize = 0;
  for (; o < even; o += 16) v128.store(c + o, f64x2.sub(v128.load(c + o), f64x2.mul(v, v128.load(u + o))));
  if (length & 1) store<f64>(c + o, load<f64>(c + o) - f * load<f64>(u + o));
}

export function factorReal(aPlace: usize, n: usize, least: f64, pivotPlace: usize, scratchPlace: usize): i32 {
  const a = aPlace << 3;
  const pivot = pivotPlace << 2;
  const row = n << 3;
  for (let from: usize = 0; from < n; from += block) {
    const to = from + block < n ? from + block : n;
    for (let k = from; k < to; k++) {
      let best = k;
      let size: f64 = 0;
      for (let i = k; i < n; i++) {
        const s = Math.abs(load<f64>(a + i * row + (k << 3)));
        if (s > size) {
          size = s;
          best = i;
        }
      }
      if (!(size > least)) return <i32>k + 1;
      store<i32>(pivot + (k << 2), <i32>best);
      if (best != k) swapRows(a + best * row, a + k * row, row);
      const d = a + k * row + (k << 3);
      const inverse = 1 / load<f64>(d);
      for (let i = k + 1; i < n; i++) {
        const o = a + i * row + (k << 3);
        const f = load<f64>(o) * inverse;
        store<f64>(o, f);
        takeReal(f, d + 8, o + 8, to - k - 1);
      }
    }
    if (to == n) break;
    const right = a + (to << 3);
    for (let k = from + 1; k < to; k++) {
      for (let l = from; l < k; l++) takeReal(load<f64>(a + k * row + (l << 3)), right + l * row, right + k * row, n - to);
    }
    const under = a + to * row;
    addProduct(
      n - to, to - from, n - to, under + (from << 3), row, right + from * row, row, under + (to << 3), row,
      scratchPlace << 3, -1,
    );
  }
  return 0;
}

export function solveReal(
  aPlace: usize, n: usize, pivotPlace: usize, bPlace: usize, columns: usize, scratchPlace: usize,
): void {
  const a = aPlace << 3;
  const b = bPlace << 3;
  const scratch = scratchPlace << 3;
  const row = n << 3;
  const width = columns << 3;
  for (let i: usize = 0; i < n; i++) {
    const p = <usize>load<i32>((pivotPlace + i) << 2);
    if (p != i) swapRows(b + p * width, b + i * width, width);
  }
  for (let from: usize = 0; from < n; from += block) {
    const to = from + block < n ? from + block : n;
    addProduct(to - from, from, columns, a + from * row, row, b, width, b + from * width, width, scratch, -1);
    for (let i = from + 1; i < to; i++) {
      for (let l = from; l < i; l++) takeReal(load<f64>(a + i * row + (l << 3)), b + l * width, b + i * width, columns);
    }
  }
  let end = n;
  while (end > 0) {
    const from = ((end - 1) / block) * block;
    addProduct(
      end - from, n - end, columns, a + from * row + (end << 3), row, b + end * width, width, b + from * width, width,
      scratch, -1,
    );
    for (let i = end; i-- > from; ) {
      for (let l = i + 1; l < end; l++) {
        takeReal(load<f64>(a + i * row + (l << 3)), b + l * width, b + i * width, columns);
      }
      const inverse = 1 / load<f64>(a + i * row + (i << 3));
      for (let j: usize = 0; j < width; j += 8) {
        const at = b + i * width + j;
        store<f64>(at, load<f64>(at) * inverse);
      }
    }
    end = from;
  }
}
