// The two loops that everything here is made of. Pointers in bytes. A STRIP is four rows side by side, column after
// column: four doubles (32 bytes) a column.
//
// Eight registers of two doubles hold the 4 x 4 tile; sixteen is what the machine has, so nothing is unrolled further
// (measured: unrolling by two costs a fifth). Inlined: a call costs a tenth of a shallow tile.

/** c := c - a b': c[4 j + i] -= sum over k of a[k][i] b[k][j]. a, b: strips of `depth` columns; c: 16 doubles. */
// @ts-ignore: decorator
@inline
export function tile(a: usize, b: usize, depth: i32, c: usize): void {
  const end = a + (<usize>depth << 5);
  let c00 = v128.load(c, 0);
  let c01 = v128.load(c, 16);
  let c10 = v128.load(c, 32);
  let c11 = v128.load(c, 48);
  let c20 = v128.load(c, 64);
  let c21 = v128.load(c, 80);
  let c30 = v128.load(c, 96);
  let c31 = v128.load(c, 112);
  while (a < end) {
    const a0 = v128.load(a, 0);
    const a1 = v128.load(a, 16);
    let y = v128.load_splat<f64>(b, 0);
    c00 = f64x2.sub(c00, f64x2.mul(a0, y));
    c01 = f64x2.sub(c01, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 8);
    c10 = f64x2.sub(c10, f64x2.mul(a0, y));
    c11 = f64x2.sub(c11, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 16);
    c20 = f64x2.sub(c20, f64x2.mul(a0, y));
    c21 = f64x2.sub(c21, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 24);
    c30 = f64x2.sub(c30, f64x2.mul(a0, y));
    c31 = f64x2.sub(c31, f64x2.mul(a1, y));
    a += 32;
    b += 32;
  }
  v128.store(c, c00, 0);
  v128.store(c, c01, 16);
  v128.store(c, c10, 32);
  v128.store(c, c11, 48);
  v128.store(c, c20, 64);
  v128.store(c, c21, 80);
  v128.store(c, c30, 96);
  v128.store(c, c31, 112);
}

/** c := - a b': c[4 j + i] = - sum over k of a[k][i] b[k][j]. a, b: strips of `depth` columns; c: 16 doubles. */
// @ts-ignore: decorator
@inline
export function freshTile(a: usize, b: usize, depth: i32, c: usize): void {
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
    let y = v128.load_splat<f64>(b, 0);
    c00 = f64x2.sub(c00, f64x2.mul(a0, y));
    c01 = f64x2.sub(c01, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 8);
    c10 = f64x2.sub(c10, f64x2.mul(a0, y));
    c11 = f64x2.sub(c11, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 16);
    c20 = f64x2.sub(c20, f64x2.mul(a0, y));
    c21 = f64x2.sub(c21, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 24);
    c30 = f64x2.sub(c30, f64x2.mul(a0, y));
    c31 = f64x2.sub(c31, f64x2.mul(a1, y));
    a += 32;
    b += 32;
  }
  v128.store(c, c00, 0);
  v128.store(c, c01, 16);
  v128.store(c, c10, 32);
  v128.store(c, c11, 48);
  v128.store(c, c20, 64);
  v128.store(c, c21, 80);
  v128.store(c, c30, 96);
  v128.store(c, c31, 112);
}

/** x[k] := x[k] - sum over r of s[k][r] y[r], k < columns: s a strip, x `columns` rows of four, y four rows of four. */
export function spread(s: usize, y: usize, columns: i32, x: usize): void {
  const y00 = v128.load(y, 0);
  const y01 = v128.load(y, 16);
  const y10 = v128.load(y, 32);
  const y11 = v128.load(y, 48);
  const y20 = v128.load(y, 64);
  const y21 = v128.load(y, 80);
  const y30 = v128.load(y, 96);
  const y31 = v128.load(y, 112);
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
