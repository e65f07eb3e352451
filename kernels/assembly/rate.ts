// The yardstick (engine/numerics/kernels/rate.ts): the loop all dense kernels here are built around, alone.
//
// Eight registers of two doubles hold a 4 x 4 tile, column by column; per k two loads of a, four splats of b.

/** c := c - sum_k a[k] b[k]'. Places in doubles; returns nothing, reads and writes memory. */
export function tile(a: usize, b: usize, depth: i32, c: usize): void {
  let p = a << 3;
  let q = b << 3;
  const to = c << 3;
  const end = p + (<usize>depth << 5);
  let c00 = v128.load(to, 0);
  let c01 = v128.load(to, 16);
  let c10 = v128.load(to, 32);
  let c11 = v128.load(to, 48);
  let c20 = v128.load(to, 64);
  let c21 = v128.load(to, 80);
  let c30 = v128.load(to, 96);
  let c31 = v128.load(to, 112);
  while (p < end) {
    const a0 = v128.load(p, 0);
    const a1 = v128.load(p, 16);
    let y = v128.load_splat<f64>(q, 0);
    c00 = f64x2.sub(c00, f64x2.mul(a0, y));
    c01 = f64x2.sub(c01, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(q, 8);
    c10 = f64x2.sub(c10, f64x2.mul(a0, y));
    c11 = f64x2.sub(c11, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(q, 16);
    c20 = f64x2.sub(c20, f64x2.mul(a0, y));
    c21 = f64x2.sub(c21, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(q, 24);
    c30 = f64x2.sub(c30, f64x2.mul(a0, y));
    c31 = f64x2.sub(c31, f64x2.mul(a1, y));
    p += 32;
    q += 32;
  }
  v128.store(to, c00, 0);
  v128.store(to, c01, 16);
  v128.store(to, c10, 32);
  v128.store(to, c11, 48);
  v128.store(to, c20, 64);
  v128.store(to, c21, 80);
  v128.store(to, c30, 96);
  v128.store(to, c31, 112);
}

export function multiplyAdd(a: usize, b: usize, depth: i32, c: usize, rounds: i32): void {
  for (let r = 0; r < rounds; r++) tile(a, b, depth, c);
}
