// Long vectors in blocks of four, interleaved. Layouts and twin: engine/numerics/kernels/blocks.ts.
// Arguments are places in doubles (<< 3 for bytes) or, for index lists, in 32-bit integers (<< 2).
import { spread, tile } from "./shared/tile";

/** Rows worked at a time: one chunk of a block is 16 KB, which stays in the fastest cache. */
const chunk: i32 = 512;

// @ts-ignore: decorator
@inline
function least(a: i32, b: i32): i32 {
  return a < b ? a : b;
}

function productsOfChunk(
  q: usize,
  step: usize,
  count: i32,
  z: usize,
  zStep: usize,
  blocks: i32,
  rows: i32,
  c: usize,
): void {
  for (let b = 0; b < count; b++, q += step) {
    let own = z;
    let to = c + (<usize>b << 7);
    for (let k = 0; k < blocks; k++, own += zStep, to += <usize>count << 7) tile(own, q, rows, to);
  }
}

export function products(
  q: usize,
  stride: usize,
  count: i32,
  z: usize,
  zStride: usize,
  blocks: i32,
  rows: i32,
  c: usize,
): void {
  const size = (count * blocks) << 7;
  memory.fill(c << 3, 0, size);
  for (let row = 0; row < rows; row += chunk) {
    const at = <usize>row << 5;
    productsOfChunk(
      (q << 3) + at,
      stride << 3,
      count,
      (z << 3) + at,
      zStride << 3,
      blocks,
      least(chunk, rows - row),
      c << 3,
    );
  }
  const end = (c << 3) + <usize>size;
  for (let p = c << 3; p < end; p += 16) v128.store(p, f64x2.neg(v128.load(p)));
}

function subtractChunk(
  q: usize,
  step: usize,
  count: i32,
  c: usize,
  x: usize,
  xStep: usize,
  blocks: i32,
  rows: i32,
): void {
  for (let b = 0; b < count; b++, q += step) {
    let own = x;
    let from = c + (<usize>b << 7);
    for (let k = 0; k < blocks; k++, own += xStep, from += <usize>count << 7) spread(q, from, rows, own);
  }
}

export function subtract(
  q: usize,
  stride: usize,
  count: i32,
  c: usize,
  x: usize,
  xStride: usize,
  blocks: i32,
  rows: i32,
): void {
  for (let row = 0; row < rows; row += chunk) {
    const at = <usize>row << 5;
    subtractChunk(
      (q << 3) + at,
      stride << 3,
      count,
      c << 3,
      (x << 3) + at,
      xStride << 3,
      blocks,
      least(chunk, rows - row),
    );
  }
}

export function transform(w: usize, t: usize, rows: i32, out: usize): void {
  const m = t << 3;
  const t00 = v128.load(m, 0);
  const t01 = v128.load(m, 16);
  const t10 = v128.load(m, 32);
  const t11 = v128.load(m, 48);
  const t20 = v128.load(m, 64);
  const t21 = v128.load(m, 80);
  const t30 = v128.load(m, 96);
  const t31 = v128.load(m, 112);
  let p = w << 3;
  let to = out << 3;
  const end = p + (<usize>rows << 5);
  while (p < end) {
    let u = v128.load_splat<f64>(p, 0);
    let x0 = f64x2.mul(u, t00);
    let x1 = f64x2.mul(u, t01);
    u = v128.load_splat<f64>(p, 8);
    x0 = f64x2.add(x0, f64x2.mul(u, t10));
    x1 = f64x2.add(x1, f64x2.mul(u, t11));
    u = v128.load_splat<f64>(p, 16);
    x0 = f64x2.add(x0, f64x2.mul(u, t20));
    x1 = f64x2.add(x1, f64x2.mul(u, t21));
    u = v128.load_splat<f64>(p, 24);
    x0 = f64x2.add(x0, f64x2.mul(u, t30));
    x1 = f64x2.add(x1, f64x2.mul(u, t31));
    v128.store(to, x0, 0);
    v128.store(to, x1, 16);
    p += 32;
    to += 32;
  }
}

/** The entries from..to-1 below the diagonal of one column. */
function multiplyColumn(from: usize, end: usize, values: usize, at: usize, x: usize, y: usize): void {
  const x0 = v128.load(x + at, 0);
  const x1 = v128.load(x + at, 16);
  let s0 = f64x2.splat(0);
  let s1 = f64x2.splat(0);
  while (from < end) {
    const i = <usize>load<u32>(from) << 5;
    const v = v128.load_splat<f64>(values);
    s0 = f64x2.add(s0, f64x2.mul(v, v128.load(x + i, 0)));
    s1 = f64x2.add(s1, f64x2.mul(v, v128.load(x + i, 16)));
    v128.store(y + i, f64x2.add(v128.load(y + i, 0), f64x2.mul(v, x0)), 0);
    v128.store(y + i, f64x2.add(v128.load(y + i, 16), f64x2.mul(v, x1)), 16);
    from += 4;
    values += 8;
  }
  v128.store(y + at, f64x2.add(v128.load(y + at, 0), s0), 0);
  v128.store(y + at, f64x2.add(v128.load(y + at, 16), s1), 16);
}

export function multiply(n: i32, colStart: usize, rowIndex: usize, values: usize, x: usize, y: usize): void {
  memory.fill(y << 3, 0, <usize>n << 5);
  let p = load<u32>(colStart << 2);
  for (let j = 0; j < n; j++) {
    const end = load<u32>((colStart << 2) + (<usize>j << 2), 4);
    if (p == end) continue;
    const at = <usize>j << 5;
    if (load<u32>((rowIndex << 2) + (<usize>p << 2)) == <u32>j) {
      const v = v128.load_splat<f64>((values << 3) + (<usize>p << 3));
      const xAt = (x << 3) + at;
      const yAt = (y << 3) + at;
      v128.store(yAt, f64x2.add(v128.load(yAt, 0), f64x2.mul(v, v128.load(xAt, 0))), 0);
      v128.store(yAt, f64x2.add(v128.load(yAt, 16), f64x2.mul(v, v128.load(xAt, 16))), 16);
      p++;
    }
    if (p < end)
      multiplyColumn(
        (rowIndex << 2) + (<usize>p << 2),
        (rowIndex << 2) + (<usize>end << 2),
        (values << 3) + (<usize>p << 3),
        at,
        x << 3,
        y << 3,
      );
    p = end;
  }
}
