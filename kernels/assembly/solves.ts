// Triangular solves with a supernodal factor L D L' on blocks of four right-hand sides.
// Layouts and twin: engine/numerics/kernels/solves.ts.
import { spread, tile } from "./shared/tile";

/** Four rows of x, 4 x 4, times the inverse of the unit lower tile at l. */
function lowerTile(l: usize, x: usize): void {
  const x00 = v128.load(x, 0);
  const x01 = v128.load(x, 16);
  let x10 = v128.load(x, 32);
  let x11 = v128.load(x, 48);
  let x20 = v128.load(x, 64);
  let x21 = v128.load(x, 80);
  let x30 = v128.load(x, 96);
  let x31 = v128.load(x, 112);
  let u = v128.load_splat<f64>(l, 8);
  x10 = f64x2.sub(x10, f64x2.mul(u, x00));
  x11 = f64x2.sub(x11, f64x2.mul(u, x01));
  u = v128.load_splat<f64>(l, 16);
  x20 = f64x2.sub(x20, f64x2.mul(u, x00));
  x21 = f64x2.sub(x21, f64x2.mul(u, x01));
  u = v128.load_splat<f64>(l, 48);
  x20 = f64x2.sub(x20, f64x2.mul(u, x10));
  x21 = f64x2.sub(x21, f64x2.mul(u, x11));
  u = v128.load_splat<f64>(l, 24);
  x30 = f64x2.sub(x30, f64x2.mul(u, x00));
  x31 = f64x2.sub(x31, f64x2.mul(u, x01));
  u = v128.load_splat<f64>(l, 56);
  x30 = f64x2.sub(x30, f64x2.mul(u, x10));
  x31 = f64x2.sub(x31, f64x2.mul(u, x11));
  u = v128.load_splat<f64>(l, 88);
  x30 = f64x2.sub(x30, f64x2.mul(u, x20));
  x31 = f64x2.sub(x31, f64x2.mul(u, x21));
  v128.store(x, x10, 32);
  v128.store(x, x11, 48);
  v128.store(x, x20, 64);
  v128.store(x, x21, 80);
  v128.store(x, x30, 96);
  v128.store(x, x31, 112);
}

/** The same with the transposed tile. */
function upperTile(l: usize, x: usize): void {
  let x00 = v128.load(x, 0);
  let x01 = v128.load(x, 16);
  let x10 = v128.load(x, 32);
  let x11 = v128.load(x, 48);
  let x20 = v128.load(x, 64);
  let x21 = v128.load(x, 80);
  const x30 = v128.load(x, 96);
  const x31 = v128.load(x, 112);
  let u = v128.load_splat<f64>(l, 88);
  x20 = f64x2.sub(x20, f64x2.mul(u, x30));
  x21 = f64x2.sub(x21, f64x2.mul(u, x31));
  u = v128.load_splat<f64>(l, 56);
  x10 = f64x2.sub(x10, f64x2.mul(u, x30));
  x11 = f64x2.sub(x11, f64x2.mul(u, x31));
  u = v128.load_splat<f64>(l, 48);
  x10 = f64x2.sub(x10, f64x2.mul(u, x20));
  x11 = f64x2.sub(x11, f64x2.mul(u, x21));
  u = v128.load_splat<f64>(l, 24);
  x00 = f64x2.sub(x00, f64x2.mul(u, x30));
  x01 = f64x2.sub(x01, f64x2.mul(u, x31));
  u = v128.load_splat<f64>(l, 16);
  x00 = f64x2.sub(x00, f64x2.mul(u, x20));
  x01 = f64x2.sub(x01, f64x2.mul(u, x21));
  u = v128.load_splat<f64>(l, 8);
  x00 = f64x2.sub(x00, f64x2.mul(u, x10));
  x01 = f64x2.sub(x01, f64x2.mul(u, x11));
  v128.store(x, x00, 0);
  v128.store(x, x01, 16);
  v128.store(x, x10, 32);
  v128.store(x, x11, 48);
  v128.store(x, x20, 64);
  v128.store(x, x21, 80);
}

// @ts-ignore: decorator
@inline
function addTo(x: usize, row: usize, v0: v128, v1: v128): void {
  const at = x + (<usize>load<u32>(row) << 5);
  v128.store(at, f64x2.add(v128.load(at, 0), v0), 0);
  v128.store(at, f64x2.add(v128.load(at, 16), v1), 16);
}

/** x[rows] := x[rows] - s a for the four rows of a strip; a: `depth` rows of four. */
function scatterTile(a: usize, s: usize, depth: i32, x: usize, rows: usize): void {
  const end = a + (<usize>depth << 5);
  let c00 = f64x2.splat(0);
  let c01 = f64x2.splat(0);
  let c10 = f64x2.splat(0);
  let c11 = f64x2.splat(0);
  let c20 = f64x2.splat(0);
  let c21 = f64x2.splat(0);
  let c30 = f64x2.splat(0);
  let c31 = f64x2.splat(0);
  while (a < end) {
    const a0 = v128.load(a, 0);
    const a1 = v128.load(a, 16);
    let y = v128.load_splat<f64>(s, 0);
    c00 = f64x2.sub(c00, f64x2.mul(a0, y));
    c01 = f64x2.sub(c01, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(s, 8);
    c10 = f64x2.sub(c10, f64x2.mul(a0, y));
    c11 = f64x2.sub(c11, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(s, 16);
    c20 = f64x2.sub(c20, f64x2.mul(a0, y));
    c21 = f64x2.sub(c21, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(s, 24);
    c30 = f64x2.sub(c30, f64x2.mul(a0, y));
    c31 = f64x2.sub(c31, f64x2.mul(a1, y));
    a += 32;
    s += 32;
  }
  addTo(x, rows, c00, c01);
  addTo(x, rows + 4, c10, c11);
  addTo(x, rows + 8, c20, c21);
  addTo(x, rows + 12, c30, c31);
}

export function forward(
  l: usize,
  w: i32,
  strips: i32,
  d: usize,
  x: usize,
  stride: usize,
  blocks: i32,
  first: usize,
  rows: usize,
): void {
  const stripSize = <usize>w << 5;
  const start = (x << 3) + (first << 5);
  const step = stride << 3;
  let strip = l << 3;
  for (let j = 0; j < w; j += 4, strip += stripSize) {
    let own = start;
    for (let b = 0; b < blocks; b++, own += step) {
      const c = own + (<usize>j << 5);
      tile(own, strip, j, c);
      lowerTile(strip + (<usize>j << 5), c);
    }
  }
  let row = rows << 2;
  for (let i = w >> 2; i < strips; i++, strip += stripSize, row += 16) {
    let own = start;
    let whole = x << 3;
    for (let b = 0; b < blocks; b++, own += step, whole += step) scatterTile(own, strip, w, whole, row);
  }
  let own = start;
  for (let b = 0; b < blocks; b++, own += step) divide(own, d << 3, w);
}

function divide(x: usize, d: usize, w: i32): void {
  const end = x + (<usize>w << 5);
  while (x < end) {
    const u = f64x2.splat(1 / load<f64>(d));
    v128.store(x, f64x2.mul(v128.load(x, 0), u), 0);
    v128.store(x, f64x2.mul(v128.load(x, 16), u), 16);
    x += 32;
    d += 8;
  }
}

/** x[k] := x[k] - sum over the four rows r of s[k][r] y[rows[r]]. */
function gatherSpread(s: usize, y: usize, rows: usize, columns: i32, x: usize): void {
  const r0 = y + (<usize>load<u32>(rows, 0) << 5);
  const r1 = y + (<usize>load<u32>(rows, 4) << 5);
  const r2 = y + (<usize>load<u32>(rows, 8) << 5);
  const r3 = y + (<usize>load<u32>(rows, 12) << 5);
  const y00 = v128.load(r0, 0);
  const y01 = v128.load(r0, 16);
  const y10 = v128.load(r1, 0);
  const y11 = v128.load(r1, 16);
  const y20 = v128.load(r2, 0);
  const y21 = v128.load(r2, 16);
  const y30 = v128.load(r3, 0);
  const y31 = v128.load(r3, 16);
  const end = s + (<usize>columns << 5);
  while (s < end) {
    let u = v128.load_splat<f64>(s, 0);
    let x0 = f64x2.sub(v128.load(x, 0), f64x2.mul(u, y00));
    let x1 = f64x2.sub(v128.load(x, 16), f64x2.mul(u, y01));
    u = v128.load_splat<f64>(s, 8);
    x0 = f64x2.sub(x0, f64x2.mul(u, y10));
    x1 = f64x2.sub(x1, f64x2.mul(u, y11));
    u = v128.load_splat<f64>(s, 16);
    x0 = f64x2.sub(x0, f64x2.mul(u, y20));
    x1 = f64x2.sub(x1, f64x2.mul(u, y21));
    u = v128.load_splat<f64>(s, 24);
    x0 = f64x2.sub(x0, f64x2.mul(u, y30));
    x1 = f64x2.sub(x1, f64x2.mul(u, y31));
    v128.store(x, x0, 0);
    v128.store(x, x1, 16);
    s += 32;
    x += 32;
  }
}

export function backward(
  l: usize,
  w: i32,
  strips: i32,
  x: usize,
  stride: usize,
  blocks: i32,
  first: usize,
  rows: usize,
): void {
  const stripSize = <usize>w << 5;
  const start = (x << 3) + (first << 5);
  const step = stride << 3;
  let strip = (l << 3) + <usize>(w >> 2) * stripSize;
  let row = rows << 2;
  for (let i = w >> 2; i < strips; i++, strip += stripSize, row += 16) {
    let own = start;
    let whole = x << 3;
    for (let b = 0; b < blocks; b++, own += step, whole += step) gatherSpread(strip, whole, row, w, own);
  }
  strip = (l << 3) + <usize>((w >> 2) - 1) * stripSize;
  for (let j = w - 4; j >= 0; j -= 4, strip -= stripSize) {
    let own = start;
    for (let b = 0; b < blocks; b++, own += step) {
      const c = own + (<usize>j << 5);
      upperTile(strip + (<usize>j << 5), c);
      spread(strip, c, j, own);
    }
  }
}
