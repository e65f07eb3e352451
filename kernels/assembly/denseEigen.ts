// Dense symmetric eigenproblems. Layouts and twin: engine/numerics/kernels/denseEigen.ts. Arguments are places in doubles.

@inline function at(place: usize, i: usize): usize {
  return (place + i) << 3;
}

@inline function sum2(v: v128): f64 {
  return f64x2.extract_lane(v, 0) + f64x2.extract_lane(v, 1);
}

/** x'y over bytes px .., py .., length in doubles. */
function dot(px: usize, py: usize, length: i32): f64 {
  let s0 = f64x2.splat(0);
  let s1 = f64x2.splat(0);
  let k = 0;
  for (; k + 4 <= length; k += 4) {
    s0 = f64x2.add(s0, f64x2.mul(v128.load(px, 0), v128.load(py, 0)));
    s1 = f64x2.add(s1, f64x2.mul(v128.load(px, 16), v128.load(py, 16)));
    px += 32;
    py += 32;
  }
  let s = sum2(f64x2.add(s0, s1));
  for (; k < length; k++) {
    s += load<f64>(px) * load<f64>(py);
    px += 8;
    py += 8;
  }
  return s;
}

/** y -= f x */
function subtract(f: f64, px: usize, py: usize, length: i32): void {
  const g = f64x2.splat(f);
  let k = 0;
  for (; k + 2 <= length; k += 2) {
    v128.store(py, f64x2.sub(v128.load(py), f64x2.mul(g, v128.load(px))));
    px += 16;
    py += 16;
  }
  if (k < length) store<f64>(py, load<f64>(py) - f * load<f64>(px));
}

export function cholesky(b: usize, stride: i32, n: i32, floors: usize): i32 {
  for (let i = 0; i < n; i++) {
    const row = b + <usize>(i * stride);
    for (let j = 0; j < i; j++) {
      const other = b + <usize>(j * stride);
      const place = at(row, j);
      store<f64>(place, (load<f64>(place) - dot(row << 3, other << 3, j)) / load<f64>(at(other, j)));
    }
    const pivot = load<f64>(at(row, i)) - dot(row << 3, row << 3, i);
    if (!(pivot > load<f64>(at(floors, i)))) return i;
    store<f64>(at(row, i), Math.sqrt(pivot));
  }
  return -1;
}

/** Rows of a, from the top: row i less L_ij rows j < i, over L_ii. Four rows j at a time. */
function forwardRows(l: usize, a: usize, stride: i32, n: i32): void {
  const width = (n + 1) & ~1; // the padding of a row may be written
  for (let i = 0; i < n; i++) {
    const own = l + <usize>(i * stride);
    const row = at(a, i * stride);
    let j = 0;
    for (; j + 4 <= i; j += 4) {
      const f0 = v128.load_splat<f64>(at(own, j));
      const f1 = v128.load_splat<f64>(at(own, j), 8);
      const f2 = v128.load_splat<f64>(at(own, j), 16);
      const f3 = v128.load_splat<f64>(at(own, j), 24);
      let y = row;
      let x0 = at(a, j * stride);
      let x1 = at(a, (j + 1) * stride);
      let x2 = at(a, (j + 2) * stride);
      let x3 = at(a, (j + 3) * stride);
      const end = row + (<usize>width << 3);
      while (y < end) {
        let s = f64x2.sub(v128.load(y), f64x2.mul(f0, v128.load(x0)));
        s = f64x2.sub(s, f64x2.mul(f1, v128.load(x1)));
        s = f64x2.sub(s, f64x2.mul(f2, v128.load(x2)));
        v128.store(y, f64x2.sub(s, f64x2.mul(f3, v128.load(x3))));
        y += 16;
        x0 += 16;
        x1 += 16;
        x2 += 16;
        x3 += 16;
      }
    }
    for (; j < i; j++) subtract(load<f64>(at(own, j)), at(a, j * stride), row, n);
    const scale = f64x2.splat(1 / load<f64>(at(own, i)));
    for (let k = 0; k < width; k += 2) {
      const y = row + (<usize>k << 3);
      v128.store(y, f64x2.mul(v128.load(y), scale));
    }
  }
}

export function reduce(l: usize, a: usize, stride: i32, n: i32): void {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) store<f64>(at(a, j * stride + i), load<f64>(at(a, i * stride + j)));
  }
  forwardRows(l, a, stride, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const p = at(a, j * stride + i);
      const q = at(a, i * stride + j);
      const t = load<f64>(p);
      store<f64>(p, load<f64>(q));
      store<f64>(q, t);
    }
  }
  forwardRows(l, a, stride, n);
}

/** p += A v over the lower triangle of order i, p zeroed before; rows two at a time. */
function symmetricProduct(a: usize, stride: i32, i: i32, v: usize, p: usize): void {
  let r = 0;
  for (; r + 2 <= i; r += 2) {
    let x0 = at(a, r * stride);
    let x1 = at(a, (r + 1) * stride);
    const f0 = v128.load_splat<f64>(at(v, r));
    const f1 = v128.load_splat<f64>(at(v, r), 8);
    let q = v << 3;
    let y = p << 3;
    let s0 = f64x2.splat(0);
    let s1 = f64x2.splat(0);
    const end = q + (<usize>r << 3);
    while (q < end) {
      const b0 = v128.load(x0);
      const b1 = v128.load(x1);
      const w = v128.load(q);
      s0 = f64x2.add(s0, f64x2.mul(b0, w));
      s1 = f64x2.add(s1, f64x2.mul(b1, w));
      v128.store(y, f64x2.add(v128.load(y), f64x2.add(f64x2.mul(b0, f0), f64x2.mul(b1, f1))));
      x0 += 16;
      x1 += 16;
      q += 16;
      y += 16;
    }
    // the 2 x 2 at the diagonal
    const v0 = load<f64>(q);
    const v1 = load<f64>(q, 8);
    const a10 = load<f64>(x1);
    store<f64>(y, load<f64>(y) + sum2(s0) + load<f64>(x0) * v0 + a10 * v1);
    store<f64>(y + 8, load<f64>(y + 8) + sum2(s1) + a10 * v0 + load<f64>(x1, 8) * v1);
  }
  if (r < i) {
    const row = at(a, r * stride);
    const f = load<f64>(at(v, r));
    store<f64>(at(p, r), load<f64>(at(p, r)) + dot(row, v << 3, r + 1));
    subtract(-f, row, p << 3, r);
  }
}

/** A -= v p' + p v' on the lower triangle of order i; rows two at a time (the corner above the diagonal is written too). */
function symmetricUpdate(a: usize, stride: i32, i: i32, v: usize, p: usize): void {
  let r = 0;
  for (; r + 2 <= i; r += 2) {
    let x0 = at(a, r * stride);
    let x1 = at(a, (r + 1) * stride);
    const v0 = v128.load_splat<f64>(at(v, r));
    const v1 = v128.load_splat<f64>(at(v, r), 8);
    const p0 = v128.load_splat<f64>(at(p, r));
    const p1 = v128.load_splat<f64>(at(p, r), 8);
    let q = v << 3;
    let y = p << 3;
    const end = q + (<usize>(r + 2) << 3);
    while (q < end) {
      const w = v128.load(q);
      const u = v128.load(y);
      v128.store(x0, f64x2.sub(v128.load(x0), f64x2.add(f64x2.mul(v0, u), f64x2.mul(p0, w))));
      v128.store(x1, f64x2.sub(v128.load(x1), f64x2.add(f64x2.mul(v1, u), f64x2.mul(p1, w))));
      x0 += 16;
      x1 += 16;
      q += 16;
      y += 16;
    }
  }
  if (r < i) {
    const row = at(a, r * stride);
    subtract(load<f64>(at(v, r)), p << 3, row, r + 1);
    subtract(load<f64>(at(p, r)), v << 3, row, r + 1);
  }
}

export function tridiagonalize(a: usize, stride: i32, n: i32, d: usize, e: usize, work: usize): void {
  if (n > 0) store<f64>(at(e, n - 1), 0);
  for (let i = n - 1; i > 0; i--) {
    const v = a + <usize>(i * stride);
    store<f64>(at(d, i), load<f64>(at(v, i)));
    let largest: f64 = 0;
    for (let k = 0; k < i; k++) largest = Math.max(largest, Math.abs(load<f64>(at(v, k))));
    if (largest == 0) {
      store<f64>(at(e, i - 1), 0);
      continue;
    }
    let norm: f64 = 0;
    for (let k = 0; k < i; k++) {
      const x = load<f64>(at(v, k)) / largest;
      norm += x * x;
    }
    norm = largest * Math.sqrt(norm);
    const last = load<f64>(at(v, i - 1));
    const alpha = last > 0 ? -norm : norm;
    store<f64>(at(e, i - 1), alpha);
    const scale = 1 / Math.sqrt(norm) / Math.sqrt(norm + Math.abs(last));
    for (let k = 0; k < i; k++) store<f64>(at(v, k), load<f64>(at(v, k)) * scale);
    store<f64>(at(v, i - 1), load<f64>(at(v, i - 1)) - alpha * scale);
    memory.fill(work << 3, 0, <usize>i << 3);
    symmetricProduct(a, stride, i, v, work);
    subtract(0.5 * dot(work << 3, v << 3, i), v << 3, work << 3, i);
    symmetricUpdate(a, stride, i, v, work);
  }
  if (n > 0) store<f64>(d << 3, load<f64>(a << 3));
}

export function backTransform(a: usize, stride: i32, n: i32, z: usize, count: i32): void {
  for (let c = 0; c < count; c++) {
    const x = at(z, c * stride);
    for (let i = 1; i < n; i++) {
      const v = at(a, i * stride);
      if (load<f64>(v + (<usize>(i - 1) << 3)) == 0) continue;
      subtract(dot(v, x, i), v, x, i);
    }
  }
}

export function backSolve(l: usize, stride: i32, n: i32, z: usize, count: i32): void {
  for (let c = 0; c < count; c++) {
    const x = at(z, c * stride);
    for (let i = n - 1; i >= 0; i--) {
      const row = at(l, i * stride);
      const place = x + (<usize>i << 3);
      const value = load<f64>(place) / load<f64>(row + (<usize>i << 3));
      store<f64>(place, value);
      subtract(value, row, x, i);
    }
  }
}
