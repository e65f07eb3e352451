// c := c + a b runs over strips of four columns: the strip of b is copied beside itself once ("packed", k x 4), then each
// tile of rows goes through it with its sums in registers. Everything in bytes.

export function pack(b: usize, strideB: usize, k: usize, columns: usize, to: usize, sign: f64): void {
  const signs = f64x2.splat(sign);
  let from = b;
  let at = to;
  for (let l: usize = 0; l < k; l++) {
    if (columns == 4) {
      v128.store(at, f64x2.mul(signs, v128.load(from)));
      v128.store(at, f64x2.mul(signs, v128.load(from, 16)), 16);
    } else {
      v128.store(at, f64x2.splat(0));
      v128.store(at, f64x2.splat(0), 16);
      for (let j: usize = 0; j < columns; j++) store<f64>(at + (j << 3), sign * load<f64>(from + (j << 3)));
    }
    from += strideB;
    at += 32;
  }
}

// Adds the four sums lo, hi to the row at `to`, of which `columns` are there.
// @ts-ignore: decorator
@inline export function addRow(to: usize, lo: v128, hi: v128, columns: usize): void {
  if (columns == 4) {
    v128.store(to, f64x2.add(v128.load(to), lo));
    v128.store(to, f64x2.add(v128.load(to, 16), hi), 16);
    return;
  }
  store<f64>(to, load<f64>(to) + f64x2.extract_lane(lo, 0));
  if (columns > 1) store<f64>(to + 8, load<f64>(to + 8) + f64x2.extract_lane(lo, 1));
  if (columns > 2) store<f64>(to + 16, load<f64>(to + 16) + f64x2.extract_lane(hi, 0));
}

// c + sign a b with everything in bytes. Tiles of four rows by four columns.
export function addProduct(
  m: usize, k: usize, n: usize, a: usize, sa: usize, b: usize, sb: usize, c: usize, sc: usize, scratch: usize, sign: f64,
): void {
  for (let j: usize = 0; j < n; j += 4) {
    const columns: usize = n - j < 4 ? n - j : 4;
    pack(b + (j << 3), sb, k, columns, scratch, sign);
    const end = scratch + (k << 5);
    let i: usize = 0;
    for (; i + 4 <= m; i += 4) {
      let p0 = a + i * sa;
      let p1 = p0 + sa;
      let p2 = p1 + sa;
      let p3 = p2 + sa;
      let c00 = f64x2.splat(0);
      let c01 = f64x2.splat(0);
      let c10 = f64x2.splat(0);
      let c11 = f64x2.splat(0);
      let c20 = f64x2.splat(0);
      let c21 = f64x2.splat(0);
      let c30 = f64x2.splat(0);
      let c31 = f64x2.splat(0);
      for (let q = scratch; q < end; q += 32) {
        const b0 = v128.load(q);
        const b1 = v128.load(q, 16);
        let y = v128.load_splat<f64>(p0);
        c00 = f64x2.add(c00, f64x2.mul(b0, y));
        c01 = f64x2.add(c01, f64x2.mul(b1, y));
        y = v128.load_splat<f64>(p1);
        c10 = f64x2.add(c10, f64x2.mul(b0, y));
        c11 = f64x2.add(c11, f64x2.mul(b1, y));
        y = v128.load_splat<f64>(p2);
        c20 = f64x2.add(c20, f64x2.mul(b0, y));
        c21 = f64x2.add(c21, f64x2.mul(b1, y));
        y = v128.load_splat<f64>(p3);
        c30 = f64x2.add(c30, f64x2.mul(b0, y));
        c31 = f64x2.add(c31, f64x2.mul(b1, y));
        p0 += 8;
        p1 += 8;
        p2 += 8;
        p3 += 8;
      }
      const to = c + i * sc + (j << 3);
      addRow(to, c00, c01, columns);
      addRow(to + sc, c10, c11, columns);
      addRow(to + 2 * sc, c20, c21, columns);
      addRow(to + 3 * sc, c30, c31, columns);
    }
    for (; i < m; i++) {
      let p0 = a + i * sa;
      let c00 = f64x2.splat(0);
      let c01 = f64x2.splat(0);
      for (let q = scratch; q < end; q += 32) {
        const y = v128.load_splat<f64>(p0);
        c00 = f64x2.add(c00, f64x2.mul(v128.load(q), y));
        c01 = f64x2.add(c01, f64x2.mul(v128.load(q, 16), y));
        p0 += 8;
      }
      addRow(c + i * sc + (j << 3), c00, c01, columns);
    }
  }
}
